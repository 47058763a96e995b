"""The roster as it stands on one day, looked up by number, by name and by site."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any

from evenhand.terms.columns import Frame

__all__ = ["Roster", "roster_on"]

Entry = dict[str, Any]


@dataclass(frozen=True)
class Roster:
    """People by identifier, split into those employed, those who left and those yet to come.

    Every entry is a row of the roster, `people` the whole of it. `here` are the identifiers employed on the day, in the
    roster's order.
    """

    entries: dict[str, Entry]
    here: tuple[str, ...]
    left: frozenset[str]
    holders: dict[str, tuple[str, ...]]
    people: Frame
    tells_supervisors: bool

    def holders_now(self, number: str) -> tuple[str, ...]:
        """Return who holds the number and has not left."""
        return tuple(person for person in self.holders.get(number, ()) if person not in self.left)

    def call(self, person: str) -> str:
        """Return the person's name with the identifier behind it."""
        return f"{self.entries[person]['name']} ({person})"

    def number(self, person: str) -> str:
        """Return the person's number, or '' where the roster has none."""
        return str(self.entries[person]["number"] or "").strip()

    def works_at(self, person: str, site: str | None) -> bool:
        """Return whether the person works at the site; one without a site works at any."""
        return site is None or self.entries[person]["site"] in (None, site)

    def supervisors(self, site: str | None) -> Iterable[str]:
        """Yield who is employed at the site, may enrol others, and alone holds a number."""
        return (person for person in self.able if self.works_at(person, site))

    @cached_property
    def able(self) -> tuple[str, ...]:
        """Return who is employed, may enrol others, and alone holds a number."""
        named = [person for person in self.here if self.entries[person]["is_supervisor"] and self.number(person)]
        return tuple(person for person in named if len(self.holders_now(self.number(person))) == 1)


def roster_on(people: Frame, day: date) -> Roster:
    """Return the roster as it stands on `day`; first and last day of employment both count."""
    entries: dict[str, Entry] = {row["person"]: row for row in people.iter_rows(named=True)}
    left = frozenset(person for person, row in entries.items() if row["left_on"] and row["left_on"] < day)
    here = tuple(
        person
        for person, row in entries.items()
        if person not in left and not (row["hired_on"] and row["hired_on"] > day)
    )
    holders: dict[str, list[str]] = {}
    for person, row in entries.items():
        if (row["number"] or "").strip():
            holders.setdefault(row["number"].strip(), []).append(person)
    return Roster(
        entries=entries,
        here=here,
        left=left,
        holders={number: tuple(held) for number, held in holders.items()},
        people=people,
        tells_supervisors=people["is_supervisor"].is_not_null().any(),
    )
