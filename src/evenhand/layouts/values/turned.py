"""Dates of which a spreadsheet turned day and month around.

Opened where the month is written first, a day-first list comes out half changed (and the other way round): 05/10/2026
becomes a date, 10 May; 13/10/2026 is none, and stays the text it was. What was changed and saved as a date then looks
as certain as any other: only the split at the twelfth, and how far apart the dates lie, still tell.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from evenhand.layouts.values.closeness import is_denser
from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.dates import EPOCH, DateStyle, orders_of, parse_date, style_of

__all__ = ["Turned", "find_turned"]

MISTAKES = 0.05  # of the dates of either spelling, that may stand on the wrong side of the twelfth
# How likely it is that a day of the month is above twelve, or is not, and how likely an accident is believed to be
# where nothing else tells.
ABOVE, UP_TO, ACCIDENT = 0.6, 0.4, 0.02


@dataclass(frozen=True)
class Turned:
    """Dates that seem to be turned: some `texts` of them, as they are written, and the days they stand for now.

    `beside` is a date of the same column that stayed text, '' where every date is one that was turned.
    """

    texts: tuple[str, ...]
    days: tuple[date, ...]
    beside: str = ""

    @property
    def meant(self) -> tuple[date, ...]:
        """Return the days that seem to be meant."""
        return tuple(date(day.year, day.day, day.month) for day in self.days)


def find_turned(
    texts: Sequence[str], order: str, first_year: int, latest: int | None = None, *, is_close: bool, is_log: bool
) -> Turned | None:
    """Return which dates of a column seem to be turned, None where nothing speaks for it.

    `texts` are its distinct dates, of which those that can be meant in several orders are read in `order`; none lies
    after `latest`, where it has such a day. `is_close` says that they lie close together, `is_log` that there is one
    of nearly every day on which a reader is in use.
    """
    style = style_of(texts, first_year)
    certain: list[tuple[str, date]] = []
    ordered: list[tuple[str, date]] = []
    for text in dict.fromkeys(texts):
        day = _day(text, order, first_year, style)
        if day is not None:
            (ordered if orders_of(text, style) else certain).append((text, date.fromordinal(day + EPOCH)))
    turnable = [(text, day) for text, day in certain if day.day <= 12 and day.day != day.month]
    above = sum(day.day > 12 for _, day in certain)
    if not turnable or above > MISTAKES * len(certain):
        return None
    stayed = [day for _, day in ordered]
    written = [*stayed, *(day for _, day in certain)]
    meant = [*stayed, *(date(day.year, day.day, day.month) if day.day <= 12 else day for _, day in certain)]
    shown = turnable[:2]
    found = Turned(tuple(text for text, _ in shown), tuple(day for _, day in shown), ordered[0][0] if ordered else "")
    if not ordered:
        return found if is_log and is_denser(_numbers(meant), _numbers(written)) else None
    if sum(day.day <= 12 for day in stayed) > MISTAKES * len(stayed):
        return None
    is_wider = is_close and _span(written) < _span(meant)
    is_closer = is_close and _span(written) > 2 * _span(meant) + 14
    is_past = latest is not None and max(_numbers(meant)) <= latest < max(_numbers(written))
    if is_closer or is_past:
        return found
    # The first of a month is what many lists begin with, whoever writes them.
    told = sum(day.day > 1 for _, day in turnable)
    accident = UP_TO**told * ABOVE ** len(stayed)
    return found if not is_wider and told > 1 and accident < ACCIDENT else None


def _day(text: str, order: str, first_year: int, style: DateStyle) -> int | None:
    try:
        return parse_date(text, order, first_year, style)
    except Unfit:
        return None


def _numbers(days: Sequence[date]) -> list[int]:
    return [day.toordinal() - EPOCH for day in days]


def _span(days: Sequence[date]) -> int:
    return (max(days) - min(days)).days
