"""Hold worked time against the limits of Directive 2003/88/EC: rests, breaks, the average week, night work.

Source: Directive 2003/88/EC, articles 3 to 6, 8 and 16 (second hand). Rest is a difference of instants, so it is
counted in elapsed time. Limits are minimum requirements: derogations (articles 17 to 22), opt-outs, leave and national
law decide whether a breach is one. Nothing here changes paid seconds.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import polars as pl

from evenhand.law.eu_2003_88 import averages, rests
from evenhand.law.eu_2003_88.limits import LIMIT_NUMBERS
from evenhand.law.eu_2003_88.saying import worded
from evenhand.law.jurisdiction import Limits
from evenhand.terms.columns import Frame
from evenhand.terms.hours import BREACHES
from evenhand.terms.parameters import Parameter
from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["LIMITS", "find_breaches"]


def find_breaches(
    classed: Frame, zone: str, numbers: Mapping[str, Parameter], weeks: tuple[date, date] | None = None
) -> Frame:
    """Return where the spans in `classed` (CLASSED) do not keep to the limits (BREACHES), by person and time.

    Looked at are the shifts that begin in the workweeks from `weeks[0]` to `weeks[1]`, or all of them: each whole, also
    where it goes on in a later workweek. Only the average week, which is one of elapsed weeks, takes the time that lies
    in them. `classed` reaches a week beyond them on either side. `zone` is where the night is; days are those of the
    spans themselves. `numbers` are the limits by name; those in force on the day of a person's first span hold for all.
    """
    if classed.is_empty():
        return BREACHES.empty()
    before, begun, within = _in_weeks(classed, weeks)
    spans = _with_limits(_joined(begun), zone, numbers)
    shifts = _shifts(spans, numbers).join(
        before.group_by("person").agg(rested_from=pl.col("ends").max()), on="person", how="left", maintain_order="left"
    )
    found = [
        rests.between_shifts(shifts),
        rests.in_each_day(shifts),
        rests.without_break(shifts),
        rests.in_the_week(shifts, zone),
        averages.weeks_too_long(_with_limits(_joined(within), zone, numbers)),
        averages.nights_too_long(spans, shifts, zone),
    ]
    return worded(pl.concat(found), zone)


LIMITS = Limits("eu_2003_88.limits", LIMIT_NUMBERS, find_breaches)


def _in_weeks(classed: Frame, weeks: tuple[date, date] | None) -> tuple[Frame, Frame, Frame]:
    """Return the shifts before the weeks, those that begin in them, and the time that lies in them."""
    if weeks is None:
        return classed.clear(), classed, classed
    begun = classed.select(pl.col("workweek").min().over("person", "shift")).to_series()
    return (
        classed.filter(begun < weeks[0]),
        classed.filter(begun.is_between(*weeks)),
        classed.filter(pl.col("workweek").is_between(*weeks)),
    )


def _shifts(spans: Frame, numbers: Mapping[str, Parameter]) -> Frame:
    """Return the shifts that spans make, with their limits, by person and time."""
    return (
        spans.group_by("person", "shift")
        .agg(
            pl.col("starts").min(),
            pl.col("ends").max(),
            pl.col("first_day", *numbers).first(),
            spans=pl.len(),
            worked_s=(pl.col("ends") - pl.col("starts")).sum(),
        )
        .sort("person", "starts")
    )


def _joined(classed: Frame) -> Frame:
    """Return the worked spans of each person and shift; spans that touch are one."""
    in_order = classed.select("person", "shift", "starts", "ends").sort("person", "starts")
    touches = (
        pl.col("person").eq(pl.col("person").shift())
        & pl.col("shift").eq(pl.col("shift").shift())
        & pl.col("starts").eq(pl.col("ends").shift())
    ).fill_null(value=False)
    return (
        in_order.group_by(span=(~touches).cum_sum(), maintain_order=True)
        .agg(pl.col("person", "shift", "starts").first(), pl.col("ends").last())
        .drop("span")
    )


def _with_limits(spans: Frame, zone: str, numbers: Mapping[str, Parameter]) -> Frame:
    """Return the spans with each limit as a column, in force on the civil day of the person's first span."""
    civil = offsets_of(zone).to_local(spans["starts"].to_numpy()) // DAY_S
    dated = spans.with_columns(day=pl.Series(civil, dtype=pl.Int64).cast(pl.Int32).cast(pl.Date))
    first = dated.group_by("person").agg(first_day=pl.col("day").min())
    days: list[date] = first["first_day"].unique().to_list()
    values = [pl.Series(name, [number.on(day) for day in days], dtype=pl.Int64) for name, number in numbers.items()]
    limits = pl.select(pl.Series("first_day", days, dtype=pl.Date), *values)
    return dated.join(first.join(limits, on="first_day"), on="person", maintain_order="left")
