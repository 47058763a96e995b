"""How much pay stands behind punches that cannot be paid yet: an estimate, always called one."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import polars as pl

from evenhand.checks.facts import Facts
from evenhand.terms.columns import Frame
from evenhand.terms.stretches import minutes_in_doubt
from evenhand.terms.zones import day_start

__all__ = ["in_period", "minutes_behind", "within"]


def in_period(facts: Facts, punches: Frame) -> Frame:
    """Return the punches (with `reader` and `at`) that fall into the pay period, by each reader's site and zone."""
    return within(facts, punches, facts.period.first, facts.period.last)


def within(facts: Facts, punches: Frame, first: date, last: date) -> Frame:
    """Return the punches (with `reader` and `at`) of the days `first` to `last`, by each reader's site and zone."""
    whole = _bounds(facts, facts.zone, None, first, last)
    of_places = {place: _bounds(facts, *place, first, last) for place in set(facts.reader_places.values())}
    bounds = {reader: of_places[place] for reader, place in facts.reader_places.items()}
    since, until = (
        pl.col("reader").replace_strict(
            {reader: of_reader[end] for reader, of_reader in bounds.items()}, default=whole[end], return_dtype=pl.Int64
        )
        for end in (0, 1)
    )
    # the widest bounds first, since a column of numbers is compared faster than readers are looked up
    near = punches.filter(
        pl.col("at") >= min(bound[0] for bound in [whole, *bounds.values()]),
        pl.col("at") < max(bound[1] for bound in [whole, *bounds.values()]),
    )
    return near.filter(pl.col("at") >= since, pl.col("at") < until)


def _bounds(facts: Facts, zone: str, site: str | None, first: date, last: date) -> tuple[int, int]:
    rules = facts.settings.sites.get(site or "") if site is not None else None
    after_midnight = rules.workweek_s if rules else 0
    after = last + timedelta(days=1)
    return day_start(zone, first, after_midnight), day_start(zone, after, after_midnight)


def minutes_behind(facts: Facts, punches: Frame, by: Sequence[str]) -> Frame:
    """Return the columns `by` with `minutes` of pay that the punches would make, each group being one person's."""
    return minutes_in_doubt(punches, by, facts.settings.policy)
