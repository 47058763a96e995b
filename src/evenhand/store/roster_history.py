"""What rosters said before: whom they list no longer, whose number and days they changed, who came back."""

from __future__ import annotations

import json
from collections.abc import Collection
from datetime import date
from typing import Any

import sqlalchemy as sa

from evenhand.store.tables import STORED
from evenhand.store.whole_columns import read_columns
from evenhand.terms.columns import Frame
from evenhand.terms.files_told import EARLIER_LAST_DAYS, GONE_PEOPLE, ROSTER_TOLD, ROSTERS_TAKEN

__all__ = ["earlier_last_days", "gone_people", "roster_told", "rosters_taken"]


def gone_people(conn: sa.Connection) -> Frame:
    """Return whom the roster lists no longer (GONE_PEOPLE), by person."""
    takes, stored = STORED["takes"].c, STORED["people"].c
    since = sa.select(stored.person, takes["take"], takes.file, takes.taken_at).where(stored.gone == takes["take"])
    return read_columns(conn, GONE_PEOPLE, since).sort("person")


def earlier_last_days(conn: sa.Connection, of: Collection[str] | None = None) -> Frame:
    """Return whose first day on the roster is later than a last day it gave (EARLIER_LAST_DAYS), of some or of all."""
    days = STORED["people"].c
    asked = sa.select(days.person, days.hired_on, days.left_on)
    rows = conn.execute(asked if of is None else asked.where(days.person.in_(list(of)))).all()
    roster = [(person, _day(hired), _day(left)) for person, hired, left in rows]
    hired = {person: day for person, day, _ in roster if day is not None}
    last = {person: left for person, first, left in roster if left is not None and _came_back(first, left)}
    stored = STORED["changes"].c
    ended = sa.select(stored.row_key, stored.was).where(stored.table == "people", stored.was.contains('"left_on": "'))
    if of is not None:
        ended = ended.where(stored.row_key.in_([json.dumps({"person": person}) for person in of]))
    for row_key, was in conn.execute(ended):
        person, told = json.loads(row_key)["person"], json.loads(was).get("left_on")
        day = _day(told)
        if day is not None and _came_back(hired.get(person), day):
            last[person] = max(day, last.get(person, day))
    return EARLIER_LAST_DAYS.rows({"person": person, "left_on": last[person]} for person in sorted(last))


def _came_back(hired_on: date | None, left_on: date | None) -> bool:
    return hired_on is not None and left_on is not None and hired_on > left_on


def _day(told: str | None) -> date | None:
    return date.fromisoformat(told) if told else None


def rosters_taken(conn: sa.Connection) -> Frame:
    """Return when which roster was taken (ROSTERS_TAKEN), those that are taken back left out."""
    takes = STORED["takes"].c
    read = sa.select(takes["take"], takes.taken_at).where(takes.table == "people", takes.is_back == 0)
    return read_columns(conn, ROSTERS_TAKEN, read).sort("take")


def roster_told(conn: sa.Connection) -> Frame:
    """Return what rosters said of numbers and days of employment (ROSTER_TOLD), where it is not plain from now alone.

    That is of everybody of whom one said something else later, who came back after a last day, or who has or had a
    number that is or was another's too. Whoever stood under a number is told under the identifier of now.
    """
    roster, stored = STORED["people"].c, STORED["changes"].c
    columns = (roster.person, roster.known_as, roster.number, roster.hired_on, roster.left_on, roster["take"])
    rows = conn.execute(sa.select(*columns)).all()
    of_people = sa.select(stored.row_key, stored.was, stored["take"]).where(stored.table == "people")
    changes: dict[str, list[tuple[dict[str, Any], int]]] = {}
    for key, was, take in conn.execute(of_people.order_by(stored.change)):
        changes.setdefault(json.loads(key)["person"], []).append((json.loads(was), take))
    told: dict[str, list[dict[str, Any]]] = {}
    for person, known_as, number, hired_on, left_on, take in sorted(rows, key=lambda row: row.known_as is None):
        now = {"number": number, "hired_on": hired_on, "left_on": left_on}
        said = _statements(now, changes.get(person, []), take)
        # what stood under the number before is said by the identified person's row from then on
        told.setdefault(known_as or person, []).extend(said[:-1] if known_as else said)
    moved = {person for person, said in told.items() if len(said) > 1 or _left_before_they_came(said[0])}
    had: dict[str, set[str]] = {}
    for person, said in told.items():
        for one in said:
            had.setdefault(one["number"] or "", set()).add(person)
    several = {person for number, people in had.items() if number and len(people) > 1 for person in people}
    rows_told = []
    for person in sorted(moved | several):
        for position, one in enumerate(told[person], start=1):
            days = {name: _day(one[name]) for name in ("hired_on", "left_on")}
            rows_told.append({**one, **days, "person": person, "position": position})
    return ROSTER_TOLD.rows(rows_told)


def _statements(now: dict[str, Any], changes: list[tuple[dict[str, Any], int]], take: int) -> list[dict[str, Any]]:
    """Return what was said of a person, the earliest first: read from the newest change back."""
    said = [{**now, "ended": None}]
    for was, by in reversed(changes):
        before = {name: was.get(name, said[0][name]) for name in now}
        if before != {name: said[0][name] for name in now}:
            said[0] |= {"told": by, "told_by": by}
            said.insert(0, {**before, "ended": by})
    said[0] |= {"told": None if changes else take, "told_by": changes[0][1] if changes else take}
    return said


def _left_before_they_came(said: dict[str, Any]) -> bool:
    return _came_back(_day(said["hired_on"]), _day(said["left_on"]))
