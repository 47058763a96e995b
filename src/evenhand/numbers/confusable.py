"""Owned numbers that lie one slip apart, weighed by how much their owners share readers and hours."""

from __future__ import annotations

from typing import Any

import numpy as np
import polars as pl

from evenhand.numbers.chance import SLIP_SHARES, slip_chance
from evenhand.numbers.typing_errors import likelihoods, one_slip_away
from evenhand.terms.columns import Column, Frame, Table

__all__ = ["CONFUSABLE", "confusable_pairs"]

HOURS = 24

CONFUSABLE = Table(
    "confusable",
    "Pairs of people whose numbers are one slip apart, most likely to be confused first",
    (
        Column("person", "text", "One of the two", required=True),
        Column("number", "text", "Their number", required=True),
        Column("other", "text", "The other", required=True),
        Column("other_number", "text", "The other's number", required=True),
        Column("kind", "text", "The slip that turns one number into the other", required=True),
        Column("slip", "score", "P(that slip, given one is made), the larger of both ways", required=True),
        Column(
            "shared", "score", "Share of their punches at the same readers in the same hours, 0 to 1", required=True
        ),
        Column("weight", "score", "slip times shared: what the pairs are ranked by", required=True),
    ),
    key=("person", "other"),
)


def confusable_pairs(people: Frame, owned: Frame) -> Frame:
    """Return CONFUSABLE for the people of the frame; `owned` (OWNED) says who uses which reader at which hour.

    People without punches share 0. A slip at a reader that compares hands is refused, not paid to the other:
    the pair costs tries, and a wrong enrolment where a supervisor keys the slip.
    """
    holders = {number: person for person, number in people.select("person", "number").iter_rows() if number}
    places = {person: row for row, person in enumerate(holders.values())}
    use = _use(owned, places)
    rows: list[dict[str, Any]] = []
    for number, person in holders.items():
        for other in {near for near in one_slip_away(number) if near > number and near in holders}:
            slips = {**likelihoods(number, other), **likelihoods(other, number)}
            if not slips:
                continue
            chance = max(slip_chance(number, other), slip_chance(other, number))
            shared = float(np.minimum(use[places[person]], use[places[holders[other]]]).sum())
            rows.append(
                {
                    "person": person,
                    "number": number,
                    "other": holders[other],
                    "other_number": other,
                    "kind": max(slips, key=lambda kind: SLIP_SHARES[kind] * slips[kind]),
                    "slip": chance,
                    "shared": shared,
                    "weight": chance * shared,
                }
            )
    return CONFUSABLE.rows(rows).sort("weight", "slip", "number", descending=[True, True, False])


def _use(owned: Frame, places: dict[str, int]) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Each person's punches over readers and hours of the day, as shares (people, readers x hours)."""
    kept = owned.filter(pl.col("reader").is_not_null(), pl.col("person").is_in(list(places)))
    readers = {reader: at for at, reader in enumerate(kept["reader"].unique().sort())}
    use = np.zeros((len(places), max(len(readers), 1) * HOURS))
    if not kept.height:
        return use
    who = np.array([places[person] for person in kept["person"]])
    # the hour in UTC serves: two people at one reader stand in one zone
    cell = np.array([readers[reader] for reader in kept["reader"]]) * HOURS + kept["at"].to_numpy() // 3600 % HOURS
    np.add.at(use, (who, cell), 1.0)
    totals = use.sum(axis=1, keepdims=True)
    return np.asarray(use / np.where(totals > 0, totals, 1))
