"""What waits for what at one reader: a reason to be told for each turn that waits, and turns that wait on each other.

Two people whose hands stand under each other's numbers each put out the only hand of the other when enrolled again, so
that no order of such turns ends it. They are done in one visit, with all of them there, one right after the other.
"""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterator, Mapping, Sequence
from typing import Any, TypeVar

from evenhand.enrolment.rounds import NOT_THERE

__all__ = ["displaced", "missed_by", "told_or_together"]

Row = Mapping[str, Any]
Turn = TypeVar("Turn", bound=Hashable)
Reason = TypeVar("Reason")


def told_or_together(
    reasons: Mapping[Turn, Sequence[tuple[Reason, Turn | None]]],
) -> tuple[dict[Turn, Reason], list[frozenset[Turn]]]:
    """Return the reason to tell for each turn that must wait, and the rings of turns that wait on each other alone.

    `reasons` has the turns that wait, each with its reasons and the turn that would end each of them, None where none
    does. A reason that is told never leads back to its own turn: it leads to what ends it.
    """
    told: dict[Turn, Reason] = {}
    rings: list[frozenset[Turn]] = []
    left = {turn: dict.fromkeys(ends for _, ends in why) for turn, why in reasons.items() if why}
    while left:
        leads_out = [turn for turn, ends in left.items() if any(one not in left for one in ends)]
        for turn in leads_out:
            told[turn] = next(reason for reason, ends in reasons[turn] if ends not in left)
        if not leads_out:
            rings += _rings(left)
        for turn in leads_out or {turn for ring in rings for turn in ring} & left.keys():
            del left[turn]
    return told, rings


def displaced(ring: Sequence[Row], takes: Mapping[str, Collection[str]]) -> set[str]:
    """Return the items of a ring (STATES) whose people may have lost the hand they clocked with, for another of it.

    `takes` has by item the items of those whose hands stand under its number.
    """
    return {one for row in ring if row["laid_down"] for one in takes[row["item"]]}


def missed_by(ring: Sequence[Row], takes: Mapping[str, Collection[str]]) -> Iterator[tuple[str, Row]]:
    """Yield the items of a ring (STATES) that wait, each with the item of the person who is missed.

    Before a hand was laid down all wait for whoever was called and was not there, or was put aside. Afterwards those
    wait under whose number somebody's hand stands who is away; whoever may have lost their own waits for nobody.
    """
    off = displaced(ring, takes)
    away = [row for row in ring if row["result"] in (*NOT_THERE, "not_done") and row["item"] not in off]
    away.sort(key=lambda row: (row["put_off"], row["at"], row["position"]))
    if away and not any(row["laid_down"] for row in ring):
        yield from ((row["item"], away[0]) for row in ring if row is not away[0])
        return
    waits: dict[str, Row] = {}
    for row in ring:
        missed = next((one for one in away if one["item"] in takes[row["item"]]), None)
        if missed is not None and row["item"] not in off and not row["laid_down"]:
            waits[row["item"]] = missed
    absent = [row["item"] for row in away if row["result"] in NOT_THERE]
    if absent and waits.keys() >= {*absent}:  # they would wait for each other for good
        del waits[absent[0]]
    yield from waits.items()


def _rings(left: Mapping[Turn, Mapping[Turn | None, None]]) -> list[frozenset[Turn]]:
    """Return the turns that lead to each other and to no other turn: where each leads to one of them, some do."""
    reached = {turn: _reached(turn, left) for turn in left}
    closed = {turn for turn, those in reached.items() if all(turn in reached[other] for other in those)}
    return list(dict.fromkeys(frozenset(reached[turn]) for turn in left if turn in closed))


def _reached(turn: Turn, left: Mapping[Turn, Mapping[Turn | None, None]]) -> set[Turn]:
    found: set[Turn] = set()
    ahead = list(left[turn])
    while ahead:
        one = ahead.pop()
        if one is not None and one not in found:
            found.add(one)
            ahead += left[one]
    return found
