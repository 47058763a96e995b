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
from evenhand.terms.parameters import Parameter
from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["LIMITS", "find_breaches"]


def find_breaches(classed: Frame, zone: str, numbers: Mapping[str, Parameter]) -> Frame:
    """Return where the spans in `classed` (CLASSED) do not keep to the limits (BREACHES), by person and time.

    `zone` is where the night is; days are those of the spans themselves. `numbers` are the limits by name; those in
    force on the day of a person's first span hold for all of them.
    """
    spans = _with_limits(_joined(classed), zone, numbers)
    shifts = (
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
    found = [
        rests.between_shifts(shifts),
        rests.without_break(shifts),
        rests.in_the_week(shifts, zone),
        averages.weeks_too_long(spans),
        averages.nights_too_long(spans, shifts, zone),
    ]
    return worded(pl.concat(found), zone)


LIMITS = Limits("eu_2003_88.limits", LIMIT_NUMBERS, find_breaches)


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
