"""What a plan of an enrolment day must keep to, written as the rows of an integer programme.

A reader that nobody holds authority on takes a supervisor first; whoever comes later is enrolled by a supervisor
who stands there and proves the own hand (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from evenhand.enrolment.planning.groups import Group, Place
from evenhand.enrolment.planning.programme import Programme

__all__ = ["SUPERVISORS", "DayProgramme", "written"]

SUPERVISORS = 2


@dataclass
class DayProgramme:
    """The programme of a day with the places of its variables.

    `goes[g][reader, slot]` counts the members of group g; `stands[person, reader, slot]` says who attends;
    `missed` and `short` count visits and supervisors that cannot be had, which cost `missing` and ten times that;
    `rings` are groups that come together.
    """

    programme: Programme
    groups: Sequence[Group]
    missing: int
    goes: list[dict[Place, int]] = field(default_factory=list)
    stands: dict[tuple[str, str, int], int] = field(default_factory=dict)
    missed: dict[int, int] = field(default_factory=dict)
    short: dict[str, int] = field(default_factory=dict)
    rings: list[frozenset[int]] = field(default_factory=list)

    def supervisors_at(self, reader: str) -> list[int]:
        """Return the groups that are a supervisor's visit at this reader."""
        return [g for g, group in enumerate(self.groups) if group.is_supervisor and reader in group.readers]

    def before(self, g: int, reader: str, slot: int) -> list[tuple[int, float]]:
        """Return the terms that add up to 1 once the group's visit has been made there before the slot."""
        return [(at, 1.0) for (where, when), at in self.goes[g].items() if where == reader and when < slot]


def written(
    groups: Sequence[Group],
    places: Mapping[str, int],
    standing: Mapping[str, frozenset[str]],
    free: Mapping[str, frozenset[int]],
    slots: int,
    *,
    crew_most: int | None,
    attended: bool,
    later: float,
    together: Sequence[frozenset[int]] = (),
) -> DayProgramme:
    """Return the day as a programme; `free` names the slots each supervisor is at work, `later` weighs lateness.

    A visit or a second supervisor that cannot be had is counted, and costs more than any rearrangement of the others
    could save; a supervisor as much as ten people.
    """
    day = DayProgramme(Programme(), groups, missing=1 + sum(_spread(group) for group in groups))
    _visits(day, places, later)
    for reader, most in places.items():
        for slot in range(slots):
            at = [(goes[reader, slot], 1.0) for goes in day.goes if (reader, slot) in goes]
            day.programme.require(at, high=most)
    if attended:
        _who_may_stand(day, places, standing, free, slots)
    for reader, most in places.items():
        _authority(day, reader, most, standing.get(reader, frozenset()), slots, attended=attended)
        _two_supervisors(day, reader, len(standing.get(reader, ())))
    _one_place_at_a_time(day, slots)
    for ring in together:
        _in_one_slot(day, ring)
    if crew_most is not None:
        _work_goes_on(day, slots, crew_most)
    return day


def _spread(group: Group) -> int:
    return group.size * (max(group.options.values(), default=0) + 1)


def _visits(day: DayProgramme, places: Mapping[str, int], later: float) -> None:
    for g, group in enumerate(day.groups):
        goes = {
            (reader, slot): day.programme.variable(min(group.size, places[reader]), minutes + later * slot)
            for (reader, slot), minutes in group.options.items()
            if reader in places
        }
        day.goes.append(goes)
        terms = [(at, 1.0) for at in goes.values()]
        if group.is_needed:
            day.missed[g] = day.programme.variable(group.size, day.missing)
            terms.append((day.missed[g], 1.0))
        day.programme.require(terms, low=group.size if group.is_needed else 0, high=group.size)


def _who_may_stand(
    day: DayProgramme,
    places: Mapping[str, int],
    standing: Mapping[str, frozenset[str]],
    free: Mapping[str, frozenset[int]],
    slots: int,
) -> None:
    for reader in places:
        enrols = {day.groups[g].person: g for g in day.supervisors_at(reader)}
        for person in sorted({*standing.get(reader, ()), *enrols}):
            for slot in sorted(free.get(person, frozenset())):
                if slot >= slots:
                    continue
                stands = day.stands[person, reader, slot] = day.programme.variable(1)
                if person not in standing.get(reader, ()):
                    already = [(at, -weight) for at, weight in day.before(enrols[person], reader, slot)]
                    day.programme.require([(stands, 1.0), *already], high=0)


def _authority(
    day: DayProgramme, reader: str, most: int, standing: frozenset[str], slots: int, *, attended: bool
) -> None:
    supervisors = day.supervisors_at(reader)
    for slot in range(slots):
        if attended:
            held = [(at, -1.0) for (_, where, when), at in day.stands.items() if (where, when) == (reader, slot)]
        elif standing:
            continue
        else:
            held = [(at, -weight) for g in supervisors for at, weight in day.before(g, reader, slot)]
        has = day.programme.variable(1)
        day.programme.require([(has, 1.0), *held], high=0)
        others = [
            goes[reader, slot]
            for group, goes in zip(day.groups, day.goes, strict=True)
            if not group.is_supervisor and (reader, slot) in goes
        ]
        day.programme.require([*((at, 1.0) for at in others), (has, -float(most))], high=0)
        if attended:
            _later_supervisors(day, reader, slot, supervisors, held, is_empty=not standing)


def _later_supervisors(
    day: DayProgramme, reader: str, slot: int, supervisors: list[int], held: list[tuple[int, float]], *, is_empty: bool
) -> None:
    """Let only the first supervisors of an empty reader enrol with nobody standing there."""
    for g in supervisors:
        if (reader, slot) not in day.goes[g]:
            continue
        comes = (day.goes[g][reader, slot], 1.0)
        if not is_empty:
            day.programme.require([comes, *held], high=0)
            continue
        for other in supervisors:
            earlier = day.before(other, reader, slot)
            if other != g and earlier:
                day.programme.require([comes, *earlier, *held], high=1)


def _two_supervisors(day: DayProgramme, reader: str, standing: int) -> None:
    wanted = SUPERVISORS - standing
    if wanted <= 0:
        return
    terms = [(at, 1.0) for g in day.supervisors_at(reader) for (where, _), at in day.goes[g].items() if where == reader]
    day.short[reader] = day.programme.variable(wanted, 10 * day.missing)
    day.programme.require([*terms, (day.short[reader], 1.0)], low=wanted)


def _one_place_at_a_time(day: DayProgramme, slots: int) -> None:
    busy: dict[tuple[str, int], list[int]] = {}
    for group, goes in zip(day.groups, day.goes, strict=True):
        if group.is_alone:
            for (_, slot), at in goes.items():
                busy.setdefault((group.person, slot), []).append(at)
    for (person, _, slot), at in day.stands.items():
        busy.setdefault((person, slot), []).append(at)
    for (_, slot), at_once in busy.items():
        if slot < slots and len(at_once) > 1:
            day.programme.require(((at, 1.0) for at in at_once), high=1)


def _in_one_slot(day: DayProgramme, ring: frozenset[int]) -> None:
    """Let the visits of a ring be made in one slot, or none of them."""
    groups = [g for g, group in enumerate(day.groups) if ring & group.people.keys()]
    day.rings.append(frozenset(groups))
    for place in sorted({place for g in groups for place in day.goes[g]}):
        for one, other in pairwise(groups):
            terms = [(day.goes[g][place], weight) for g, weight in ((one, 1.0), (other, -1.0)) if place in day.goes[g]]
            day.programme.require(terms, low=0, high=0)


def _work_goes_on(day: DayProgramme, slots: int, crew_most: int) -> None:
    crews: dict[tuple[str, int], list[int]] = {}
    for group, goes in zip(day.groups, day.goes, strict=True):
        for (_, slot), at in goes.items():
            if group.crew is not None and slot < slots:
                crews.setdefault((group.crew, slot), []).append(at)
    for away in crews.values():
        day.programme.require(((at, 1.0) for at in away), high=crew_most)
