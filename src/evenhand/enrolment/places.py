"""Room on a reader: which numbers it holds as a round goes on, and who finds no place there when their turn comes."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any

__all__ = ["held_after", "without_place"]

Row = Mapping[str, Any]


def held_after(listed: Iterable[str], done: Iterable[Row]) -> set[str]:
    """Return the numbers a reader holds: those listed, changed by what was done since (rows of STATES, in order)."""
    held = set(listed)
    for row in done:
        if row["result"] == "removed":
            held.discard(row["number"])
        elif row["result"] == "enrolled":
            held.add(row["number"])
    return held


def without_place(order: Iterable[Row], stay: Collection[str], held: Collection[str], capacity: int) -> list[str]:
    """Return the items at one reader whose hand finds no place when their turn would come.

    `order` are rows of ROUND_ITEMS, whoever is next first; those in `stay` wait. `held` are the numbers on the reader.
    """
    there, full = set(held), []
    for row in order:
        if row["item"] in stay:
            continue
        if row["action"] == "remove":
            there.discard(row["number"])
        elif row["number"] in there or len(there) < capacity:
            there.add(row["number"])
        else:
            full.append(row["item"])
    return full
