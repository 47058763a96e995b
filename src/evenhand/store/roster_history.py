"""What rosters said before: whom they list no longer, whose number they emptied, who came back after a last day."""

from __future__ import annotations

import json
from collections.abc import Collection
from datetime import date
from typing import Any

import sqlalchemy as sa

from evenhand.store.tables import STORED
from evenhand.store.whole_columns import read_columns
from evenhand.terms.columns import Frame
from evenhand.terms.files_told import EARLIER_LAST_DAYS, GONE_PEOPLE, NUMBERS_GIVEN_UP

__all__ = ["earlier_last_days", "gone_people", "numbers_given_up"]


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


def numbers_given_up(conn: sa.Connection) -> Frame:
    """Return the number that each person held last whose number a roster emptied (NUMBERS_GIVEN_UP), by person."""
    people, takes, stored = STORED["people"].c, STORED["takes"].c, STORED["changes"].c
    # whoever stood under a number and has an identifier now gave nothing up
    without = sa.select(people.person).where(people.number.is_(None), people.known_as.is_(None))
    unnumbered = set(conn.scalars(without))
    if not unnumbered:
        return NUMBERS_GIVEN_UP.empty()
    changed = (
        sa.select(stored.row_key, stored.was, takes.taken_at)
        .where(stored.table == "people", stored["take"] == takes["take"])
        .order_by(stored.change)
    )
    last: dict[str, dict[str, Any]] = {}
    for row_key, was, taken_at in conn.execute(changed):
        person = json.loads(row_key)["person"]
        if person in unnumbered and (number := json.loads(was).get("number")):
            last[person] = {"person": person, "number": number, "taken_at": taken_at}
    return NUMBERS_GIVEN_UP.rows(last[person] for person in sorted(last))
