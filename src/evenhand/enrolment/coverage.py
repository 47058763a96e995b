"""Who is stranded when a reader fails, the fewest enrolments that help, and when a reader will be full."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import numpy as np
import polars as pl

from evenhand.terms.columns import Column, Frame, Table

__all__ = ["EXTRA", "GROWTH", "STRANDED", "WITHIN_REACH", "Covered", "growth", "one_more_each", "stranded"]

WITHIN_REACH = Table(
    "reach",
    "Which readers are within each person's reach, and how far",
    (
        Column("person", "text", "Who", required=True),
        Column("reader", "text", "A reader the person can get to", required=True),
        Column("minutes", "count", "Walking minutes to it; 0 where nobody has measured", required=True, unit="min"),
    ),
    key=("person", "reader"),
)

STRANDED = Table(
    "stranded",
    "Who cannot clock while a reader is out of order",
    (
        Column("reader", "text", "The reader that fails", required=True),
        Column("person", "text", "Who has no other reader within reach", required=True),
    ),
    key=("reader", "person"),
)

EXTRA = Table(
    "extra",
    "Enrolments to add",
    (
        Column("person", "text", "Whose hand", required=True),
        Column("reader", "text", "At which reader", required=True),
        Column("minutes", "count", "Walking minutes to it", required=True, unit="min"),
    ),
    key=("person", "reader"),
)

GROWTH = Table(
    "growth",
    "How full each reader is, and when it will be full",
    (
        Column("reader", "text", "The reader", required=True),
        Column("held", "count", "Enrolments it holds", required=True),
        Column("capacity", "count", "Enrolments it can hold"),
        Column("a_week", "score", "Enrolments added in a week, lately", unit="1/week"),
        Column("low", "score", "Lower end of the 95 % interval of the weekly rate", unit="1/week"),
        Column("high", "score", "Upper end of it", unit="1/week"),
        Column("full_on", "date", "When it is full at that rate; empty where that is more than ten years off"),
        Column("full_earliest", "date", "When it is full at the upper end"),
    ),
    key=("reader",),
)


@dataclass(frozen=True)
class Covered:
    """The fewest enrolments to add (EXTRA), and how many each person still lacks where readers are full or far."""

    extra: Frame
    lacking: dict[str, int]


def stranded(enrolled: Frame, reach: Frame) -> Frame:
    """Return STRANDED: for each reader, those enrolled on it who have no other one within REACH.

    `enrolled` has `person` and `reader`. A person always reaches the readers they are enrolled on, unless `reach`
    names readers for the person and leaves these out.
    """
    within = _within(enrolled.select("person", "reader").unique(), reach)
    alone = within.with_columns(readers=pl.len().over("person")).filter(pl.col("readers") == 1)
    return STRANDED.frame(alone.sort("reader", "person").select("reader", "person").to_dict(as_series=True))


def one_more_each(enrolled: Frame, reach: Frame, free: Mapping[str, int | None], *, readers_each: int = 2) -> Covered:
    """Return the fewest enrolments that give everybody in `reach` `readers_each` readers, the nearest where they can.

    `free` says how many more hands each reader holds; None is as many as come. As many people as possible get
    what they lack; among those ways the one with the fewest walking minutes is taken, then by name.
    Source: a transport problem; its linear programme has whole-number corners (Hoffman and Kruskal 1956), so the
    answer is exact.
    """
    have = _within(enrolled.select("person", "reader").unique(), reach)
    counts = dict(have.group_by("person").len().iter_rows())
    lacks = {
        person: readers_each - counts.get(person, 0)
        for person in reach["person"].unique().sort().to_list()
        if counts.get(person, 0) < readers_each
    }
    options = (
        reach.filter(pl.col("person").is_in(list(lacks)))
        .join(enrolled, on=["person", "reader"], how="anti")
        .sort("person", "minutes", "reader")
        .to_dicts()
    )
    chosen = _transported(options, lacks, free)
    extra = EXTRA.rows(options[at] for at in chosen)
    given = dict(extra.group_by("person").len().iter_rows())
    return Covered(extra, {who: n - given.get(who, 0) for who, n in lacks.items() if n > given.get(who, 0)})


def growth(enrolments: Frame, readers: Frame, *, as_of: date, weeks: int = 13) -> Frame:
    """Return GROWTH from the enrolments (ENROLMENTS) that each of READERS holds, by the last `weeks`' additions.

    Additions are counted by `enrolled_on`; a reader that lists no days has no rate. The interval is the exact
    95 % interval of a Poisson rate.
    Source: Garwood 1936, Fiducial limits for the Poisson distribution.
    """
    from scipy.stats import chi2

    since = as_of - timedelta(weeks=weeks)
    rows = []
    for reader, capacity in readers.select("reader", "capacity").sort("reader").iter_rows():
        held = enrolments.filter(pl.col("reader") == reader)
        row: dict[str, Any] = {"reader": reader, "held": held.height, "capacity": capacity}
        days = held["enrolled_on"].drop_nulls()
        if len(days):
            added = int(((days > since) & (days <= as_of)).sum())
            row["a_week"] = added / weeks
            row["low"] = float(chi2.ppf(0.025, 2 * added)) / 2 / weeks if added else 0.0
            row["high"] = float(chi2.ppf(0.975, 2 * added + 2)) / 2 / weeks
            if capacity is not None:
                row["full_on"] = _full(as_of, capacity - held.height, row["a_week"])
                row["full_earliest"] = _full(as_of, capacity - held.height, row["high"])
        rows.append(row)
    return GROWTH.rows(rows)


def _within(enrolled: Frame, reach: Frame) -> Frame:
    """Return the enrolments within reach; of people without a word on their reach, all."""
    unsaid = enrolled.join(reach, on="person", how="anti")
    return pl.concat([enrolled.join(reach, on=["person", "reader"], how="semi"), unsaid])


def _full(as_of: date, places: int, a_week: float) -> date | None:
    if places <= 0:
        return as_of
    weeks = places / a_week if a_week else np.inf
    return as_of + timedelta(weeks=weeks) if weeks < 520 else None


def _transported(options: list[dict[str, Any]], lacks: Mapping[str, int], free: Mapping[str, int | None]) -> list[int]:
    if not options:
        return []
    from scipy.optimize import linprog
    from scipy.sparse import csr_array

    full = {reader: places for reader, places in free.items() if places is not None}
    rows = {key: row for row, key in enumerate([*(("person", who) for who in lacks), *(("reader", r) for r in full)])}
    at = [
        (rows[key], column)
        for column, option in enumerate(options)
        for key in (("person", option["person"]), ("reader", option["reader"]))
        if key in rows
    ]
    matrix = csr_array((np.ones(len(at)), tuple(zip(*at, strict=True))), shape=(len(rows), len(options)))
    # One enrolment more outweighs any walk; the last term decides by name, and is too small to outweigh a minute.
    minutes = np.array([option["minutes"] for option in options], dtype=np.float64)
    names = np.arange(len(options)) / (len(options) * (len(options) + 1.0))
    reward = float(minutes.max()) * 2 + 2
    most = np.array([*lacks.values(), *(max(places, 0) for places in full.values())], dtype=np.float64)
    answer = linprog(minutes + names - reward * len(lacks), A_ub=matrix, b_ub=most, bounds=(0, 1), method="highs-ds")
    return [column for column, value in enumerate(answer.x) if value > 0.5]
