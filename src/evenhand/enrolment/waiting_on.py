"""What waits for what at one reader: a reason to be told for each turn that waits, and turns that wait on each other.

Two people whose hands stand under each other's numbers each put out the only hand of the other when enrolled again, so
that no order of such turns ends it. They are done in one visit, with all of them there, one right after the other.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from typing import TypeVar

__all__ = ["told_or_together"]

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
