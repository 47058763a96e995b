"""Which days somebody may mean who types a date to find something: a date read both ways is two days, not one."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

__all__ = ["days_said"]

MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
NUMBER_OF = {name: at for at, whole in enumerate(MONTHS, 1) for name in (whole, whole[:3])} | {"sept": 9}
WEEKDAY = r"(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+)?"
NAMED = "|".join(sorted(NUMBER_OF, key=len, reverse=True))
FORMS = (
    re.compile(r"\b(?P<year>\d{4})-(?P<month>\d{1,2})-(?P<day>\d{1,2})\b"),
    re.compile(r"\b(?P<first>\d{1,2})[./-](?P<second>\d{1,2})[./-](?P<year>\d{4})\b"),
    re.compile(
        rf"\b{WEEKDAY}(?P<day>\d{{1,2}})\.?\s+(?P<name>{NAMED})\b\.?,?(?:\s+(?P<year>\d{{4}})\b)?", re.IGNORECASE
    ),
    re.compile(
        rf"\b{WEEKDAY}(?P<name>{NAMED})\b\.?\s+(?P<day>\d{{1,2}})\b,?(?:\s+(?P<year>\d{{4}})\b)?", re.IGNORECASE
    ),
)


def days_said(text: str, today: date) -> tuple[tuple[date, ...], str]:
    """Return the days that a text may name, and the text without them; none and the text where it names no day.

    A day without its year is the last such day up to `today`. `3/4/2026` is the 3rd of April or the 4th of March.

    >>> days_said("quill 3/4/2026", date(2026, 5, 1))
    ((datetime.date(2026, 3, 4), datetime.date(2026, 4, 3)), 'quill')
    """
    for form in FORMS:
        if said := form.search(text):
            days = tuple(sorted(set(_read(said.groupdict(), today))))
            if days:
                return days, " ".join((text[: said.start()] + " " + text[said.end() :]).split())
    return (), text


def _read(said: dict[str, str | None], today: date) -> Iterator[date]:
    year, month = said.get("year"), NUMBER_OF.get((said.get("name") or "").casefold()) or said.get("month")
    if "first" in said:
        yield from _days(year, said["second"], said["first"])
        yield from _days(year, said["first"], said["second"])
    elif year:
        yield from _days(year, month, said["day"])
    else:
        years = (today.year, today.year - 1)
        yield from [day for one in years for day in _days(one, month, said["day"]) if day <= today][:1]


def _days(year: str | int | None, month: str | int | None, day: str | None) -> Iterator[date]:
    assert year is not None
    assert month is not None
    assert day is not None
    try:
        yield date(int(year), int(month), int(day))
    except ValueError:
        return
