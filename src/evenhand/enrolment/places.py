"""Room on a reader: which numbers it holds as a round goes on, and who finds no place there when their turn comes."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from typing import Any

__all__ = ["has_place", "held_after", "making_room", "without_place"]

Row = Mapping[str, Any]


def has_place(number: str, held: Collection[str], capacity: int | None) -> bool:
    """Whether a hand can be enrolled under a number at a reader that holds some: it does already, or has room."""
    return number in held or capacity is None or len(held) < capacity


def held_after(held: Iterable[str], done: Iterable[Row]) -> set[str]:
    """Return the numbers a reader holds: those held, changed by what was done since (rows of STATES, in order)."""
    after = set(held)
    for row in done:
        if row["result"] == "removed":
            after.discard(row["number"])
        elif row["result"] == "enrolled":
            after.add(row["number"])
    return after


def without_place(
    in_order: Callable[[Collection[str]], Iterable[Row]], held: Collection[str], capacity: int
) -> frozenset[str]:
    """Return the items at one reader whose hand finds no place when their turn would come.

    `in_order` returns what is to be done there (rows of ROUND_ITEMS), whoever is next first, without the items it is
    given; `held` are the numbers on the reader. Without them the others may come in another order, so it is asked for
    again until everybody left in it finds a place.
    """
    full: frozenset[str] = frozenset()
    while found := frozenset(_finding_none(in_order(full), set(held), capacity)):
        full |= found
    return full


def _finding_none(order: Iterable[Row], there: set[str], capacity: int) -> Iterator[str]:
    for row in order:
        if row["action"] == "remove":
            there.discard(row["number"])
        elif has_place(row["number"], there, capacity):
            there.add(row["number"])
        else:
            yield row["item"]


def making_room(
    enrolling: Iterable[Row], removing: Iterable[Row], held: Collection[str], capacity: int | None
) -> list[Row]:
    """Return what is enrolled at one reader in its order, with what is taken off (ROUND_ITEMS) as room is needed.

    A number of `removing` comes off at the time of whoever needs its place, the others of them at the end, at any.
    """
    there, left, rows = set(held), list(removing), list[Row]()
    for row in enrolling:
        if left and not has_place(row["number"], there, capacity):
            there.discard(left[0]["number"])
            rows.append({**left.pop(0), "starts_at": row["starts_at"]})
        there.add(row["number"])
        rows.append(row)
    return [*rows, *({**row, "starts_at": None} for row in left)]
