"""How much pay stands behind punches that cannot be paid yet: an estimate, always called one."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

import polars as pl

from evenhand.checks.facts import Facts
from evenhand.terms.columns import Frame
from evenhand.terms.stretches import minutes_in_doubt
from evenhand.terms.zones import day_start

__all__ = ["in_period", "minutes_behind"]


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


def minutes_behind(facts: Facts, punches: Frame, by: Sequence[str] = ("reader", "number")) -> int:
    """Return the minutes of pay that punches would make, each group `by` these columns being one person's."""
    return int(minutes_in_doubt(punches, by, facts.settings.policy)["minutes"].sum())
