"""Paid time by person, workweek, day and rate: what straight pay is worked out from."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
import polars as pl

from evenhand.pay.rates.held import FOREVER, HeldRates
from evenhand.pay.rates.holding import with_rate
from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["PAY_CLASSES", "WEEK", "WorkTime", "work_time"]

WEEK = ("person", "workweek")
PAY_CLASSES = {"straight_s": "ordinary", "overtime_s": "overtime", "double_s": "double"}


@dataclass(frozen=True)
class WorkTime:
    """Paid time cut where a person's rates change.

    `stretches`, by person and time: person, workweek, shift, starts, ends [s], pay_class, rule (that made it so), day
    (the civil day on which the stretch begins), reader ('' where none of the person's rates is for a reader). `parts`,
    by first use: person, workweek, day, reader, begins [s], worked_s, straight_s, overtime_s, double_s, rate (null
    where no one rate holds).
    """

    stretches: Frame
    parts: Frame

    def rated_within(self, weeks: Frame) -> Frame:
        """Return the stretches of the workweeks (person, workweek) that occur in `weeks`, in order, with their rate."""
        place = [*WEEK, "day", "reader"]
        within = self.stretches.join(weeks, on=WEEK, how="semi", maintain_order="left")
        return within.join(self.parts.select(*place, "rate"), on=place, maintain_order="left")


def work_time(
    classed: Frame, attributed: Frame, zones: Frame, held: HeldRates, changes: Collection[date] = ()
) -> WorkTime:
    """Return the time of CLASSED; ATTRIBUTED tells at which reader spans began, `zones` (person, zone) whose day it is.

    People whom `zones` leaves out are left out here. Time is cut where a rate changes, and at the midnights at which
    the days of `changes` begin.
    """
    spans = classed.join(zones, on="person").sort("person", "starts")
    spans = spans.with_columns(day=civil_days(spans["starts"], spans["zone"])).with_columns(
        reader=_reader(spans, attributed, held)
    )
    stretches = _cut(spans, held, changes).select(
        *WEEK, "shift", "starts", "ends", "pay_class", "rule", "day", "reader"
    )
    length = pl.col("ends") - pl.col("starts")
    of_class = {name: length.filter(pl.col("pay_class") == value).sum() for name, value in PAY_CLASSES.items()}
    parts = stretches.group_by(*WEEK, "day", "reader", maintain_order=True).agg(
        pl.col("starts").min().alias("begins"), worked_s=length.sum(), **of_class
    )
    return WorkTime(stretches, with_rate(parts, held.rates))


def _reader(spans: Frame, attributed: Frame, held: HeldRates) -> pl.Series:
    """Return the reader of each span's first punch where the person has a rate at that reader, else ''."""
    of_readers = held.rates.filter(pl.col("reader") != "").select("person", "reader").unique()
    if of_readers.is_empty():
        return pl.repeat("", spans.height, eager=True)
    begun = spans.select("person", "punch_in").join(
        attributed.select("punch", "reader"), left_on="punch_in", right_on="punch", how="left", maintain_order="left"
    )
    known = begun.join(of_readers.with_columns(at="reader"), on=["person", "reader"], how="left", maintain_order="left")
    return known["at"].fill_null("")


def _cut(spans: Frame, held: HeldRates, days: Collection[date]) -> Frame:
    """Return the spans, by person and time, cut at the midnights at which a rate of the person begins or ends."""
    changes = _changes(spans, held, days) if spans.height else spans
    if changes.is_empty():
        return spans
    numbered = spans.with_row_index("span")
    cuts = (
        numbered.lazy()
        .select("span", "person", "starts", "ends")
        .join(changes.lazy(), on="person")
        .filter(pl.col("at").is_between("starts", "ends", closed="none"))
        .select("span", "change", starts="at")
        .unique()
        .collect()
    )
    if cuts.is_empty():
        return spans
    begins = pl.concat([numbered.select("span", "starts"), cuts.select("span", "starts")]).sort("span", "starts")
    begins = begins.join(cuts, on=["span", "starts"], how="left", maintain_order="left")
    return begins.join(numbered.drop("starts"), on="span", maintain_order="left").with_columns(
        ends=pl.col("starts").shift(-1).over("span").fill_null(pl.col("ends")),
        day=pl.coalesce("change", "day"),
    )


def _changes(spans: Frame, held: HeldRates, others: Collection[date]) -> Frame:
    """Return the days on which each person's rates change, and the `others`: person, change, at (first instant) [s]."""
    until = held.rates.filter(pl.col("until") != FOREVER).select("person", change=pl.col("until") + timedelta(days=1))
    first, last = spans.select(first=pl.col("day").min(), last=pl.col("day").max() + timedelta(days=1)).row(0)
    near = pl.Series([day for day in others if first < day <= last], dtype=pl.Date)
    beside = spans.select("person").unique().join(pl.select(change=near), how="cross")
    days = pl.concat([held.rates.select("person", change="since"), until, beside]).unique()
    placed = days.filter(pl.col("change") > spans["day"].min()).join(
        spans.select("person", "zone").unique(), on="person"
    )
    at = np.zeros(placed.height, np.int64)
    local = placed["change"].cast(pl.Int32).to_numpy().astype(np.int64) * DAY_S
    for zone in placed["zone"].unique():
        rows = (placed["zone"] == zone).to_numpy()
        at[rows] = offsets_of(zone).from_local(local[rows])[0]
    return placed.select("person", "change", at=pl.Series(at, dtype=pl.Int64))
