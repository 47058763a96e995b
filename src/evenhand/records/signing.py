"""What exactly was signed: a person's hours by day and item, their digest, and in what other hours differ from them."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from datetime import date

from evenhand.terms.closing import as_time, item_in_words
from evenhand.terms.columns import Frame
from evenhand.terms.words import as_short_day

__all__ = ["Hours", "differences", "digest_of", "hours_by_person", "hours_of", "read_hours", "written"]

Hours = Mapping[tuple[date, str], int]
"""Exact seconds by civil day and item: classes of time, differentials and premium hours, as payroll is told them."""


def hours_by_person(lines: Frame) -> dict[str, Hours]:
    """Return the hours in lines (HANDED_OFF) of a period, by person; money is not among them."""
    found: dict[str, dict[tuple[date, str], int]] = {}
    for person, day, item, seconds in lines.select("person", "day", "item", "seconds").iter_rows():
        hours = found.setdefault(person, {})
        hours[day, item] = hours.get((day, item), 0) + seconds
    return {
        person: {key: seconds for key, seconds in sorted(hours.items()) if seconds} for person, hours in found.items()
    }


def hours_of(lines: Frame) -> Hours:
    """Return the hours in one person's lines (HANDED_OFF) of a period."""
    return next(iter(hours_by_person(lines).values()), {})


def written(hours: Hours) -> str:
    """Return hours as JSON: a list of day, item and seconds, in order, without spaces.

    Texts and whole numbers alone, so that it is canonical by RFC 8785 as it stands.
    """
    rows = [[day.isoformat(), item, seconds] for (day, item), seconds in sorted(hours.items())]
    return json.dumps(rows, ensure_ascii=False, separators=(",", ":"))


def read_hours(text: str) -> Hours:
    """Return the hours that `written` wrote."""
    return {(date.fromisoformat(day), item): seconds for day, item, seconds in json.loads(text)}


def digest_of(hours: Hours) -> str:
    """Return SHA-256 over the hours, in hexadecimal: the same hours, and no others, have it."""
    return hashlib.sha256(written(hours).encode()).hexdigest()


def differences(signed: Hours, now: Hours) -> tuple[list[str], int]:
    """Return what differs from the hours signed, a line for each day, and by how many seconds altogether [s]."""
    days: dict[date, list[str]] = {}
    moved = 0
    for key in sorted({*signed, *now}):
        change = now.get(key, 0) - signed.get(key, 0)
        if change:
            days.setdefault(key[0], []).append(f"{item_in_words(key[1])} {as_time(change)}")
            moved += abs(change)
    return [f"{as_short_day(day)}: {', '.join(said)}" for day, said in days.items()], moved
