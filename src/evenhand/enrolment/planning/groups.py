"""People who are interchangeable to the plan, so that it counts heads instead of naming everybody.

Two visits with the same readers, the same costs and the same crew can be swapped in any plan. Counting them
together takes that symmetry out of the search and loses nothing; names are given out afterwards, in order.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from evenhand.terms.columns import Frame

__all__ = ["Group", "grouped"]

Place = tuple[str, int]


@dataclass(frozen=True)
class Group:
    """Visits that are alike, with who makes each; `options` gives the minutes at each (reader, slot) that would do.

    A group `is_alone` where its person must be told apart: supervisors, people with several visits,
    those who come together.
    """

    people: dict[int, str]
    readers: tuple[str, ...]
    options: dict[Place, int]
    is_supervisor: bool
    is_needed: bool
    is_alone: bool
    crew: str | None

    @property
    def size(self) -> int:
        """Return how many visits there are."""
        return len(self.people)

    @property
    def visits(self) -> tuple[int, ...]:
        """Return the visits, in order."""
        return tuple(self.people)

    @property
    def person(self) -> str:
        """Return the first of its people; the only one where it is alone."""
        return next(iter(self.people.values()))


def grouped(
    visits: Frame,
    costs: Frame,
    crews: Mapping[str, str | None],
    standing: frozenset[str],
    told: Mapping[int, Place],
    change_minutes: int,
    apart: frozenset[int] = frozenset(),
) -> list[Group]:
    """Return the visits in groups, by visit; `standing` names those who may have to stand at a reader meanwhile.

    A visit that is `apart` is told from all others. One of which the person has been `told` costs `change_minutes` more
    anywhere else.
    """
    minutes: dict[str, dict[int, int]] = {}
    for person, slot, cost in costs.select("person", "slot", "minutes").iter_rows():
        minutes.setdefault(person, {})[slot] = cost
    by_visit: dict[int, list[dict[str, Any]]] = {}
    for row in visits.sort("visit", "reader").iter_rows(named=True):
        by_visit.setdefault(row["visit"], []).append(row)
    often = Counter(rows[0]["person"] for rows in by_visit.values())
    groups: dict[object, Group] = {}
    for visit, rows in by_visit.items():
        first, person = rows[0], rows[0]["person"]
        options = _options(rows, minutes.get(person, {}), told.get(visit), change_minutes)
        is_alone = first["is_supervisor"] or often[person] > 1 or person in standing or visit in apart
        readers = tuple(row["reader"] for row in rows)
        crew = crews.get(person)
        key = visit if is_alone else (readers, tuple(options.items()), crew, first["is_needed"])
        if key in groups:
            groups[key].people[visit] = person
        else:
            is_supervisor, is_needed = first["is_supervisor"], first["is_needed"]
            groups[key] = Group({visit: person}, readers, options, is_supervisor, is_needed, is_alone, crew)
    return list(groups.values())


def _options(
    rows: list[dict[str, Any]], minutes: Mapping[int, int], told: Place | None, change_minutes: int
) -> dict[Place, int]:
    places = [(row["reader"], slot) for row in rows for slot in sorted(minutes)]
    return {place: minutes[place[1]] + (change_minutes if told not in (None, place) else 0) for place in places}
