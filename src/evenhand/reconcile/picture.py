"""Roster, enrolments and punches laid side by side, once, for everything that compares them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any

import polars as pl

from evenhand.reconcile.attribute import attribute
from evenhand.reconcile.roster import Roster, roster_on
from evenhand.reconcile.standing import Standing, standings
from evenhand.terms.columns import Frame
from evenhand.terms.zones import civil_date

__all__ = ["Picture", "Seen", "picture"]


@dataclass(frozen=True)
class Seen:
    """Accepted punches of one number at one reader: how many, the first and the last."""

    punches: int = 0
    first_at: int | None = None
    last_at: int | None = None

    def __str__(self) -> str:
        """Return how many, such as '1 punch' or '3 punches'."""
        return f"{self.punches:,} {'punch' if self.punches == 1 else 'punches'}"


@dataclass(frozen=True)
class Picture:
    """What is known on the day.

    `heard` are the readers with any accepted punch. `seen` counts those under enrolled numbers and `unowned` those
    that nobody owns, both by reader and number.
    """

    roster: Roster
    readers: dict[str, dict[str, Any]]
    standings: tuple[Standing, ...]
    authority_told: frozenset[str]
    heard: frozenset[str]
    seen: dict[tuple[str, str], Seen]
    unowned: dict[tuple[str, str], Seen]

    @cached_property
    def on_reader(self) -> dict[str, list[Standing]]:
        """Return the enrolments on each listed reader."""
        found: dict[str, list[Standing]] = {reader: [] for reader in self.readers}
        for one in self.standings:
            found.setdefault(one.reader, []).append(one)
        return found

    def when(self, reader: str, seen: Seen) -> str:
        """Return 'from 2026-03-02 to 2026-03-06', by the reader's clock."""
        zone = self.readers.get(reader, {}).get("zone")
        if zone is None or seen.first_at is None or seen.last_at is None:
            return "at times that cannot be placed, because the reader is not listed"
        first, last = civil_date(zone, seen.first_at), civil_date(zone, seen.last_at)
        return f"on {first}" if first == last else f"from {first} to {last}"


def picture(
    people: Frame, readers: Frame, enrolments: Frame, recorded: Frame, corrections: Frame, *, as_of: date
) -> Picture:
    """Return the picture on `as_of`."""
    roster = roster_on(people, as_of)
    told = enrolments.filter(pl.col("is_supervisor").is_not_null())["reader"].unique().to_list()
    accepted = recorded.filter(pl.col("outcome").fill_null("accepted") == "accepted")
    return Picture(
        roster=roster,
        readers={row["reader"]: row for row in readers.iter_rows(named=True)},
        standings=tuple(standings(roster, readers, enrolments)),
        authority_told=frozenset(told),
        heard=frozenset(accepted["reader"].unique().to_list()),
        seen=_counted(accepted.join(enrolments, on=["reader", "number"], how="semi")),
        unowned=_counted(attribute(recorded, people, readers, corrections).unowned),
    )


def _counted(punches: Frame) -> dict[tuple[str, str], Seen]:
    grouped = punches.group_by("reader", "number").agg(
        pl.len().cast(pl.Int64).alias("punches"), pl.col("at").min().alias("first"), pl.col("at").max().alias("last")
    )
    return {
        (reader, number): Seen(count, first, last)
        for reader, number, count, first, last in grouped.sort("reader", "number").iter_rows()
    }
