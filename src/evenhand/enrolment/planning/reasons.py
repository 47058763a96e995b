"""Say why somebody is not in the plan."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from evenhand.enrolment.planning.constraints import SUPERVISORS, DayProgramme
from evenhand.enrolment.planning.groups import Group
from evenhand.enrolment.planning.programme import SolvedProgramme
from evenhand.enrolment.tables import LEFT_OUT
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence

__all__ = ["left_out"]

RING = sentence(
    "this person's hand and others' stand under each other's numbers, and in no slot are all of them free and fit; "
    "make slots longer, open more, or plan another day."
)


SHORT = sentence(
    "{reader} ends the day with {count} of the {needed} supervisors it needs: no other supervisor is planned for it "
    "and free; name more supervisors, or open more slots."
)
TAKEN = sentence(
    "the {places} places at {at} in the {slots} slots this person is free in are taken, or no supervisor is free to "
    "stand there; open more slots, or plan another day."
)


def left_out(day: DayProgramme, solved: SolvedProgramme, places: Mapping[str, int]) -> Frame:
    """Return the needed visits that are not made and the readers short of supervisors (LEFT_OUT)."""
    assert solved.values is not None
    short = {reader: int(solved.values[at]) for reader, at in day.short.items() if solved.values[at]}
    return LEFT_OUT.rows([*_short(short), *_missed(day, solved, places, short)])


def _short(short: Mapping[str, int]) -> Iterator[dict[str, Any]]:
    for reader, lacking in short.items():
        yield {
            "reader": reader,
            "why": SHORT.format(reader=reader, count=SUPERVISORS - lacking, needed=SUPERVISORS),
        }


def _missed(
    day: DayProgramme, solved: SolvedProgramme, places: Mapping[str, int], short: Mapping[str, int]
) -> Iterator[dict[str, Any]]:
    assert solved.values is not None
    for g, group in enumerate(day.groups):
        made = sum(int(solved.values[at]) for at in day.goes[g].values())
        for visit in group.visits[made:] if group.is_needed else ():
            is_one_of = any(g in ring for ring in day.rings)
            why = RING if is_one_of and group.options else _why(group, places, short)
            yield {
                "person": group.people[visit],
                "reader": group.readers[0] if len(group.readers) == 1 else None,
                "why": why,
            }


def _why(group: Group, places: Mapping[str, int], short: Mapping[str, int]) -> str:
    at = " or ".join(group.readers)
    if not group.options:
        return sentence("is free in none of the day's slots; plan another day.")
    if not any(reader in places for reader in group.readers):
        return sentence("{at} is not among the readers of the day; add it.").format(at=at)
    without = [reader for reader in group.readers if short.get(reader) == SUPERVISORS]
    if len(without) == len(group.readers):
        return sentence("{at} has no supervisor who could enrol anybody; enrol one there first.").format(at=at)
    slots = sorted({slot for _, slot in group.options})
    room = sum(places.get(reader, 0) for reader in group.readers) * len(slots)
    return TAKEN.format(places=room, at=at, slots=len(slots))
