"""The rests of Directive 2003/88/EC: between shifts, within a working day, and in each seven days.

Source: Directive 2003/88/EC, articles 3, 4 and 5 (second hand). Article 3 wants the rest "per 24-hour period"; that the
24 hours run from the beginning of each shift, so that no shift may be longer than what the rest leaves of them, follows
Case C-151/02 (Jaeger), paragraphs 94 and 95: rest follows the work that it is for at once (from memory).
"""

from __future__ import annotations

import polars as pl

from evenhand.law.eu_2003_88.saying import breach, midnights
from evenhand.terms.columns import Frame
from evenhand.terms.zones import DAY_S

__all__ = ["between_shifts", "in_each_day", "in_the_week", "without_break"]

HOUR_S = 3600


def between_shifts(shifts: Frame) -> Frame:
    """Return the rests between one shift and the next that are shorter than the daily rest.

    Before the first is the person's last one that is not among `shifts`, which ended at `rested_from`, if any.
    """
    before = pl.col("ends").shift().over("person").fill_null(pl.col("rested_from"))
    rests = shifts.with_columns(since=before, rest=pl.col("starts") - before)
    return breach(
        rests.filter(pl.col("rest") < pl.col("daily_rest") * HOUR_S),
        "daily_rest",
        starts=pl.col("since"),
        ends=pl.col("starts"),
        found_s=pl.col("rest"),
        limit_s=pl.col("daily_rest") * HOUR_S,
    )


def in_each_day(shifts: Frame) -> Frame:
    """Return the shifts that leave less than the daily rest in the 24 hours from their beginning.

    What follows a rest that is too short itself is among those of `between_shifts`, and no second breach.
    """
    day_ends = pl.col("starts") + DAY_S
    left = pl.max_horizontal(day_ends - pl.col("ends"), 0)
    following = pl.col("starts").shift(-1).over("person") - pl.col("ends")
    limit = pl.col("daily_rest") * HOUR_S
    return breach(
        shifts.filter(left < limit, following.is_null() | (following >= limit)),
        "daily_rest",
        starts=pl.col("ends"),
        ends=pl.max_horizontal(day_ends, "ends"),
        found_s=left,
        limit_s=limit,
        of=pl.lit(1),
    )


def without_break(shifts: Frame) -> Frame:
    """Return the shifts without any break that are longer than a working day may be without one."""
    long = pl.col("ends") - pl.col("starts") > pl.col("break_after") * HOUR_S
    return breach(
        shifts.filter(long, pl.col("spans") == 1),
        "break",
        starts=pl.col("starts"),
        ends=pl.col("ends"),
        found_s=pl.lit(0),
        limit_s=pl.col("break_after") * HOUR_S,
    )


def in_the_week(shifts: Frame, zone: str) -> Frame:
    """Return each seven days from a person's first day on, in a row, without enough uninterrupted rest."""
    placed = shifts.with_columns(
        week=pl.int_ranges(_week_of("starts", zone), _week_of("ends", zone) + 1),
        known=pl.col("ends").max().over("person"),
    ).explode("week")
    first = placed["first_day"].cast(pl.Int32).cast(pl.Int64) + 7 * placed["week"]
    bound = placed.with_columns(low=midnights(first, zone), high=midnights(first + 7, zone)).filter(
        pl.col("starts") < pl.col("high"), pl.col("ends") > pl.col("low")
    )
    within = ["person", "week"]
    free_from = pl.max_horizontal("low", "rested_from", pl.col("ends").cum_max().shift().over(within))
    rests = bound.with_columns(free=pl.min_horizontal("starts", "high") - free_from)
    weeks = rests.group_by(within).agg(
        pl.col("low", "high", "known", "weekly_rest").first(),
        free=pl.max_horizontal(pl.col("free").max(), pl.col("high").first() - pl.col("ends").max(), 0),
    )
    # Rest goes on after the last span that is known, so a week that has not passed cannot fail.
    passed = pl.col("known") >= pl.col("high") - DAY_S
    return breach(
        weeks.filter(passed, pl.col("free") < pl.col("weekly_rest") * HOUR_S),
        "weekly_rest",
        starts=pl.col("low"),
        ends=pl.col("high"),
        found_s=pl.col("free"),
        limit_s=pl.col("weekly_rest") * HOUR_S,
    )


def _week_of(instant: str, zone: str) -> pl.Expr:
    """Return the number of the seven days, from the person's first civil day on, in which an instant lies."""
    day = pl.from_epoch(pl.col(instant), "s").dt.replace_time_zone("UTC").dt.convert_time_zone(zone).dt.date()
    return (day - pl.col("first_day")).dt.total_days() // 7
