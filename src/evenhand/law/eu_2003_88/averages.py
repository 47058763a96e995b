"""The averages of Directive 2003/88/EC: working time a week, and of night workers in 24 hours.

Source: Directive 2003/88/EC, articles 6, 8 and 16; the divisor for nights (days less weekly rest days) is that of the
UK's Working Time Regulations 1998, regulation 6, from memory. Days of leave and sickness are to be left out or made
neutral (article 16(b)); punches do not show them, so the average here is of all weeks, which is too low, never too
high, for somebody who was away.
"""

from __future__ import annotations

import polars as pl

from evenhand.law.eu_2003_88.saying import breach, midnights
from evenhand.terms.columns import Frame
from evenhand.terms.zones import WEEK_S

__all__ = ["nights_too_long", "weeks_too_long"]

HOUR_S = 3600
DAYS_WORKED = 6
"""Days of a week less its weekly rest day."""


def weeks_too_long(spans: Frame) -> Frame:
    """Return the reference periods, one after the other and all of them over, whose average week is too long.

    Where less than one period is known, what is known is held against the limit.
    """
    period_s = pl.col("reference_weeks") * WEEK_S
    first = pl.col("starts").min().over("person")
    until = pl.col("ends").max().over("person")
    placed = (
        spans.with_columns(first=first, until=until, period_s=period_s)
        .with_columns(
            period=pl.int_ranges(
                (pl.col("starts") - pl.col("first")) // pl.col("period_s"),
                (pl.col("ends") - 1 - pl.col("first")) // pl.col("period_s") + 1,
            )
        )
        .explode("period")
        .with_columns(since=pl.col("first") + pl.col("period") * pl.col("period_s"))
    )
    inside = pl.min_horizontal("ends", pl.col("since") + pl.col("period_s")) - pl.max_horizontal("starts", "since")
    # The last period is as many weeks long as are known, the last of them begun.
    known = pl.min_horizontal("reference_weeks", -((pl.col("since") - pl.col("until")) // WEEK_S))
    periods = placed.group_by("person", "since").agg(
        pl.col("average_week", "reference_weeks").first(), weeks=known.first(), worked_s=inside.sum()
    )
    return breach(
        periods.filter(pl.col("worked_s") > pl.col("average_week") * HOUR_S * pl.col("weeks")),
        "average_week",
        starts=pl.col("since"),
        ends=pl.col("since") + pl.col("weeks") * WEEK_S,
        found_s=pl.col("worked_s") // pl.col("weeks"),
        limit_s=pl.col("average_week") * HOUR_S,
        average=pl.col("worked_s") / pl.col("weeks"),
        count=pl.col("weeks"),
        of=pl.col("reference_weeks"),
    )


def nights_too_long(spans: Frame, shifts: Frame, zone: str) -> Frame:
    """Return the weeks in which somebody who works nights has more than the average allows."""
    day = pl.from_epoch("starts", "s").dt.replace_time_zone("UTC").dt.convert_time_zone(zone).dt.date()
    dated = shifts.with_columns(first=day.cast(pl.Int32).cast(pl.Int64))
    night = dated.join(_night_seconds(spans, dated, zone), on=["person", "shift"])
    monday = pl.col("first") - (pl.col("first") + 3) % 7  # 1970-01-01 was a Thursday
    weeks = night.group_by("person", monday=monday).agg(
        pl.col("night_average").first(),
        pl.col("worked_s").sum(),
        nights=(pl.col("night_s") >= pl.col("night_worker") * HOUR_S).sum().cast(pl.Int64),
        shifts=pl.len(),
    )
    too_long = weeks.filter(
        2 * pl.col("nights") > pl.col("shifts"),
        pl.col("worked_s") > pl.col("night_average") * HOUR_S * DAYS_WORKED,
    )
    return breach(
        too_long.with_columns(low=midnights(too_long["monday"], zone), high=midnights(too_long["monday"] + 7, zone)),
        "night_average",
        starts=pl.col("low"),
        ends=pl.col("high"),
        found_s=pl.col("worked_s") // DAYS_WORKED,
        limit_s=pl.col("night_average") * HOUR_S,
        average=pl.col("worked_s") / DAYS_WORKED,
        count=pl.col("nights"),
    )


def _night_seconds(spans: Frame, shifts: Frame, zone: str) -> Frame:
    """Return person, shift and the seconds of it that lie in night time."""
    placed = spans.join(shifts.select("person", "shift", "first"), on=["person", "shift"], maintain_order="left")
    total = pl.lit(0, pl.Int64)
    for offset in (-1, 0, 1):
        opens = midnights(placed["first"] + offset, zone, placed["night_starts"] * 60)
        closes = midnights(placed["first"] + offset + 1, zone, placed["night_ends"] * 60)
        inside = pl.min_horizontal("ends", pl.lit(closes)) - pl.max_horizontal("starts", pl.lit(opens))
        total += pl.max_horizontal(inside, 0)
    return placed.with_columns(night_s=total).group_by("person", "shift").agg(pl.col("night_s").sum())
