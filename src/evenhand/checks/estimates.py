"""How much pay stands behind punches that cannot be paid yet: an estimate, always called one."""

from __future__ import annotations

from datetime import timedelta

import polars as pl

from evenhand.checks.facts import Facts
from evenhand.terms.columns import Frame
from evenhand.terms.zones import civil_date, day_start

__all__ = ["USUAL_MINUTES", "in_period", "minutes_behind", "usual_minutes"]

USUAL_MINUTES = 480  # eight hours, where no shift has been worked out yet


def in_period(facts: Facts, punches: Frame) -> Frame:
    """Return the punches (with `reader` and `at`) that fall into the pay period, by each reader's site and zone."""
    parts = punches.partition_by("reader", as_dict=True)
    kept = [rows.filter(_inside(facts, str(reader))) for (reader,), rows in parts.items()]
    return pl.concat(kept) if kept else punches


def _inside(facts: Facts, reader: str) -> pl.Expr:
    zone = facts.reader_zones.get(reader, facts.zone)
    rules = facts.settings.sites.get(facts.reader_sites.get(reader, ""))
    after_midnight = rules.workweek_s if rules else 0
    since = day_start(zone, facts.period.first, after_midnight)
    until = day_start(zone, facts.period.last + timedelta(days=1), after_midnight)
    return (pl.col("at") >= since) & (pl.col("at") < until)


def usual_minutes(facts: Facts) -> int:
    """Return the median length of a shift at the workplace [min]; eight hours where none is known."""
    shifts = facts.classed.group_by("person", "shift").agg((pl.col("ends") - pl.col("starts")).sum().alias("paid_s"))
    median = shifts["paid_s"].median()
    return round(float(median) / 60) if isinstance(median, (int, float)) and median > 0 else USUAL_MINUTES


def minutes_behind(facts: Facts, punches: Frame, zone: str) -> int:
    """Return the minutes of pay that punches of one person would make.

    On a day with several, from the first to the last, but no longer than the longest span the workplace allows;
    on a day with one, half a usual shift, because its other half was punched elsewhere.
    """
    days: dict[object, list[int]] = {}
    for at in punches["at"].sort():
        days.setdefault(civil_date(zone, at), []).append(at)
    longest = facts.settings.policy.longest_span_s
    alone = usual_minutes(facts) // 2
    return sum(min(ats[-1] - ats[0], longest) // 60 if len(ats) > 1 else alone for ats in days.values())
