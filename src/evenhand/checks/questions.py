"""The questions that hours leave open in the pay period, by person and day, with the punches of that day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import polars as pl

from evenhand.checks.facts import Facts
from evenhand.terms.columns import Frame
from evenhand.terms.words import as_clock, counted, listed
from evenhand.terms.zones import civil_date, day_start

__all__ = ["day_evidence", "person_days"]


def person_days(facts: Facts, kinds: tuple[str, ...]) -> Iterator[tuple[str, date, list[dict[str, Any]]]]:
    """Yield person, civil day at the person's site, and the questions of these kinds, in workweeks of the period."""
    inside = facts.questions.filter(
        pl.col("kind").is_in(kinds),
        pl.col("workweek") <= facts.period.last,
        pl.col("workweek") > facts.period.first - timedelta(days=7),
    ).sort("person", "at")
    days: dict[tuple[str, date], list[dict[str, Any]]] = {}
    for row in inside.iter_rows(named=True):
        day = civil_date(facts.zone_of(row["person"]), row["at"])
        days.setdefault((row["person"], day), []).append(row)
    for (person, day), asked in days.items():
        yield person, day, asked


def day_evidence(facts: Facts, person: str, day: date, zone: str) -> tuple[str, ...]:
    """Return the person's accepted and refused punches of the day, in words."""
    since, until = day_start(zone, day), day_start(zone, day + timedelta(days=1))
    inside = (pl.col("at") >= since, pl.col("at") < until)
    own = facts.punches_of.get(person, facts.owned.clear()).filter(*inside)
    refused = facts.refusals_of.get(facts.numbers.get(person) or "", facts.recorded.clear()).filter(*inside)
    lines = [f"{counted(own.height, 'punch', 'punches')} that day ({zone}): {_punches(own, zone)}."]
    if refused.height:
        tried = counted(refused.height, "presentation")
        lines.append(f"{tried} refused under their number: {_punches(refused, zone)}.")
    return tuple(lines)


def _punches(frame: Frame, zone: str) -> str:
    words = []
    for reader, at, direction in frame.select("reader", "at", "direction").iter_rows():
        way = f" {direction}" if direction else ""
        where = f" at {reader}" if reader else " added by hand"
        words.append(f"{as_clock(at, zone)}{way}{where}")
    return listed(words, most=10)
