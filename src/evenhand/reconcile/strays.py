"""Accepted punches that nobody owns, and the little the roster can say of them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenhand.reconcile.picture import Picture

__all__ = ["unowned"]

Row = dict[str, Any]


def unowned(facts: Picture) -> Iterator[Row]:
    """Yield what arrives under numbers nobody owns, by reader and number, and where only zeros in front are lost."""
    roster = facts.roster
    hands = {(one.reader, one.number): one.person for one in facts.standings if one.state in ("wrong", "zeros")}
    enrolled = {(one.reader, one.number) for one in facts.standings}
    bare: dict[str, list[str]] = {}
    for person in roster.here:
        bare.setdefault(roster.number(person).lstrip("0"), []).append(person)
    for (reader, number), seen in facts.unowned.items():
        row = {"reader": reader, "number": number, "punches": seen.punches}
        row |= {"first_at": seen.first_at, "last_at": seen.last_at}
        when = facts.when(reader, seen)
        yield row | {
            "kind": "unowned_punches",
            "person": hands.get((reader, number)),
            "evidence": f"{seen} accepted under {number} at {reader} {when}, "
            + ("which two people hold" if len(roster.holders_now(number)) > 1 else _why_unowned(facts, number)),
        }
        meant = bare.get(number.lstrip("0"), [])
        if (reader, number) not in enrolled and len(meant) == 1 and not roster.holders.get(number):
            right = roster.number(meant[0])
            yield row | {
                "kind": "lost_zeros",
                "person": meant[0],
                "other": right,
                "evidence": f"{reader} logs {number}; but for zeros in front this is {right}, the number of "
                f"{roster.call(meant[0])}; {seen} {when}",
            }


def _why_unowned(facts: Picture, number: str) -> str:
    holders = facts.roster.holders.get(number, ())
    if not holders:
        return "which nobody on the roster holds"
    entry = facts.roster.entries[holders[-1]]
    hired, left = entry["hired_on"], entry["left_on"]
    dates = f"from {hired or 'the beginning'} to {left or 'today'}"
    return f"held by {facts.roster.call(holders[-1])}, employed {dates}"
