"""The questions that hours leave open in the pay period, by person and day, with the punches of that day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import polars as pl

from evenhand.checks.facts import Facts
from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Moment, sentence, told
from evenhand.terms.zones import day_start

__all__ = ["AskedDay", "Punch", "asked_days"]

WAYS = {"in": sentence(" in"), "out": sentence(" out")}

AskedDay = tuple[str, date, str, list[dict[str, Any]], tuple[str, ...], list["Punch"]]
"""Person, civil day and zone at the person's site, the questions of that day, its punches in words, and what was
refused under their number without being accepted within some minutes."""

ANOTHER_TRY_S = 10 * 60
"""Within so long an accepted punch is another try at the one that was refused (common practice, no source) [s]."""


def asked_days(facts: Facts, kinds: tuple[str, ...]) -> Iterator[AskedDay]:
    """Yield the days in workweeks of the period on which questions of these kinds are open, by person and time."""
    inside = facts.questions.filter(
        pl.col("kind").is_in(kinds),
        pl.col("workweek") <= facts.period.last,
        pl.col("workweek") > facts.period.first - timedelta(days=7),
    ).sort("person", "at", maintain_order=True)
    if inside.is_empty():
        return
    zones = facts.zones_of_people()
    placed = inside.join(zones, on="person", how="left", maintain_order="left").with_columns(
        pl.col("zone").fill_null(facts.zone)
    )
    days: dict[tuple[str, date], list[dict[str, Any]]] = {}
    for row in placed.with_columns(day=civil_days(placed["at"], placed["zone"])).iter_rows(named=True):
        days.setdefault((row["person"], row["day"]), []).append(row)
    told = _punches_in_words(facts, [(person, day, rows[0]) for (person, day), rows in days.items()])
    for place, ((person, day), rows) in enumerate(days.items()):
        yield person, day, rows[0]["zone"], rows, *told[place]


def _punches_in_words(
    facts: Facts, days: list[tuple[str, date, dict[str, Any]]]
) -> list[tuple[tuple[str, ...], list[Punch]]]:
    """Return of each day the person's accepted punches and what was refused under their number, and was for good."""
    starts = {(zone, day): day_start(zone, day) for zone, day in _days_and_next(days)}
    bounds = [(starts[row["zone"], day], starts[row["zone"], day + timedelta(days=1)]) for _, day, row in days]
    own = _of_days(facts.attributed, "person", [person for person, _, _ in days], bounds)
    refused = facts.recorded.filter(pl.col("outcome") == "refused")
    tried = _of_days(refused, "number", [row["number"] for _, _, row in days], bounds)
    return [
        (
            _in_words(own.get(place, []), tried.get(place, []), row["zone"]),
            _for_good(tried.get(place, []), own.get(place, [])),
        )
        for place, (_, _, row) in enumerate(days)
    ]


def _for_good(refused: list[Punch], own: list[Punch]) -> list[Punch]:
    """Return what was refused and not accepted within some minutes after."""
    return [one for one in refused if not any(0 <= at - one[1] <= ANOTHER_TRY_S for _, at, _ in own)]


def _days_and_next(days: list[tuple[str, date, dict[str, Any]]]) -> set[tuple[str, date]]:
    return {(row["zone"], day + timedelta(days=later)) for _, day, row in days for later in (0, 1)}


Punch = tuple[str | None, int, str | None]


def _of_days(punches: Frame, column: str, whose: list[str], bounds: list[tuple[int, int]]) -> dict[int, list[Punch]]:
    """Return by place in `whose` the punches (reader, at, direction) under it within its bounds, by time."""
    wanted = pl.select(
        pl.Series(column, whose, dtype=pl.String),
        pl.Series("since", [since for since, _ in bounds], dtype=pl.Int64),
        pl.Series("until", [until for _, until in bounds], dtype=pl.Int64),
        place=pl.int_range(len(whose)),
    )
    near = punches.filter(pl.col("at") >= wanted["since"].min(), pl.col("at") < wanted["until"].max())
    found: dict[int, list[Punch]] = {}
    rows = near.join(wanted, on=column).filter(pl.col("at") >= pl.col("since"), pl.col("at") < pl.col("until"))
    for place, *punch in rows.sort("at", "punch").select("place", "reader", "at", "direction").iter_rows():
        found.setdefault(place, []).append((punch[0], punch[1], punch[2]))
    return found


def _in_words(own: list[Punch], refused: list[Punch], zone: str) -> tuple[str, ...]:
    lines = [
        told(
            "{count:# punch|# punches} that day ({zone}): {listed}.",
            count=len(own),
            zone=zone,
            listed=_listed(own, zone),
        )
    ]
    if refused:
        tried = told("{count:# presentation|# presentations}", count=len(refused))
        lines.append(told("{tried} refused under their number: {listed}.", tried=tried, listed=_listed(refused, zone)))
    return tuple(lines)


def _listed(punches: list[Punch], zone: str) -> str:
    words = []
    for reader, at, direction in punches:
        way = told(WAYS[direction]) if direction else ""
        where = told(" at {reader}", reader=reader) if reader else told(" added by hand")
        words.append(told("{at:clock}{way}{where}", at=Moment(at, zone), way=way, where=where))
    return told("{names:listed 10}", names=words)
