"""How a language writes days, moments, figures, shares and things in a row."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import lru_cache
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from evenhand.terms import words
from evenhand.terms.languages.patterns import (
    ENGLISH_DAY,
    ENGLISH_MOMENT,
    ENGLISH_SPAN,
    IN_FIGURES,
    SHORT_MONTHS,
    SHORT_WEEKDAYS,
)

__all__ = ["DaySpan", "Moment", "Writing"]

GROUPED = re.compile(r"\d{1,3}(?:,\d{3})+")
E_BEFORE, U_BEFORE = (re.compile(sound, re.IGNORECASE) for sound in (r"h?[ií](?![aeou])", r"h?[oó]"))
ROWS = {"and": ("e", "y", E_BEFORE), "or": ("u", "o", U_BEFORE)}
"""What Spanish puts between things in a row, before its own sound and before others."""


class DaySpan(NamedTuple):
    """A span of days, both included, within a sentence."""

    first: date
    last: date


class Moment(NamedTuple):
    """An instant [s since 1970-01-01T00:00:00Z] within a sentence, told by the clocks of a zone."""

    instant: int | datetime
    zone: str


@dataclass(frozen=True)
class Writing:
    """Writes days, figures and rows as one language does.

    Where it `names_zones`, as where a workplace has clocks of two, every time says by which it is told: `06:53 EST`.
    """

    language: str
    names_zones: bool = field(default=False, kw_only=True)

    @property
    def days(self) -> Mapping[str, Callable[[date], str]]:
        """Return how a day is written, by what a pattern asks for."""
        iso = date.isoformat if self.language == "en" else self.day
        days = {"": self.day, "short": self.short_day, "long": self.long_day, "written": self.written_day, "iso": iso}
        return {**days, "of_year": self.day_of_year}

    @property
    def moments(self) -> Mapping[str, Callable[..., str]]:
        """Return how a moment is written, by what a pattern asks for."""
        return {"": self.moment, "short": self.short_moment, "clock": self.clock, "zoned": self.zoned_moment}

    def share(self, part: float, spec: str) -> str:
        """Return a part of one in percent as Python's `spec` writes it: `12%`; in Spanish with a space before the sign.

        Source: Ortografía de la lengua española (2010), VIII 2.4: the sign stands apart from the figure.
        """
        written = format(part, spec)
        return written if self.language == "en" else written.replace("%", "\u00a0%")

    def figure(self, count: int) -> str:
        """Return a whole number: 10,205 in English; in Spanish with a space, which no country reads as decimals."""
        # Source: Ortografía de la lengua española (2010), VIII 2.2.1: groups of three parted by a space, from five
        # figures on.
        if self.language == "en":
            return f"{count:,}"
        return f"{count:,}".replace(",", "\u00a0") if abs(count) >= 10_000 else str(count)

    def grouped(self, text: str) -> str:
        """Return an amount with the figures that English groups, as in `1,204 h 30`, grouped as the language does."""
        if self.language == "en":
            return text
        return GROUPED.sub(lambda found: self.figure(int(found[0].replace(",", ""))), text)

    def day(self, day: date) -> str:
        """Return `Wed 4 Mar 2026`, or `mié 4 mar 2026`."""
        return words.as_day(day) if self.language == "en" else self._formatted(day, "EEE d MMM y")

    def short_day(self, day: date) -> str:
        """Return `Wed 4 Mar`, or `mié 4 mar`."""
        return words.as_short_day(day) if self.language == "en" else self._formatted(day, "EEE d MMM")

    def long_day(self, day: date) -> str:
        """Return `Wednesday 4 March 2026`, or `miércoles 4 de marzo de 2026`."""
        return words.as_long_day(day) if self.language == "en" else self._formatted(day, "EEEE d 'de' MMMM 'de' y")

    def written_day(self, day: date) -> str:
        """Return `4 March 2026`, or `4 de marzo de 2026`, which can be read in one way only."""
        return f"{day.day} {day:%B} {day.year}" if self.language == "en" else self._formatted(day, "d 'de' MMMM 'de' y")

    def day_of_year(self, day: date) -> str:
        """Return `4 March`, or `4 de marzo`."""
        return words.as_day_of_year(day) if self.language == "en" else self._formatted(day, "d 'de' MMMM")

    def span_of_days(self, first: date, last: date) -> str:
        """Return `Sun 1 to Sat 14 Mar 2026`, or `del dom 1 al sáb 14 mar 2026`."""
        if self.language == "en":
            return words.as_span_of_days(first, last)
        begins = "EEE d" if (first.year, first.month) == (last.year, last.month) else "EEE d MMM"
        begins += "" if first.year == last.year else " y"
        return f"del {self._formatted(first, begins)} al {self.day(last)}"

    def clock(self, instant: int, zone: str) -> str:
        """Return the time on the wall in `zone`: `06:53`, with the seconds where there are any."""
        return words.as_clock(instant, zone, is_named=self.names_zones)

    def moment(self, instant: Any, zone: str) -> str:
        """Return day and time on the wall in `zone`: `Wed 4 Mar 2026, 06:53`."""
        return self._moment(instant, zone, is_named=self.names_zones)

    def _moment(self, instant: Any, zone: str, *, is_named: bool) -> str:
        written = words.as_moment(instant, zone, is_named=is_named)
        if self.language == "en":
            return written
        _, _, clock = written.partition(", ")
        return f"{self.day(_on_the_wall(instant, zone))}, {clock}"

    def short_moment(self, instant: int, zone: str) -> str:
        """Return `Wed 4 Mar, 06:53`, with the seconds where there are any."""
        return f"{self.short_day(_on_the_wall(instant, zone))}, {self.clock(instant, zone)}"

    def zoned_moment(self, instant: int | datetime, zone: str) -> str:
        """Return `Wed 4 Mar 2026, 06:53 (America/Chicago)`."""
        return f"{self._moment(instant, zone, is_named=False)} ({zone})"

    def listed(self, things: Sequence[str], most: int = 1_000_000) -> str:
        """Return things in a row: `a, b and c`; in Spanish `a, b y c`, with `e` before the sound of an i.

        Beyond `most` it says how many more there are.
        """
        if self.language == "en":
            return words.listed(things, most) if things else ""
        if len(things) > most:
            things = [*things[:most], f"{self.figure(len(things) - most)} más"]
        if len(things) < 2:
            return "".join(things)
        return f"{', '.join(things[:-1])} {self.joining('and', things[-1])} {things[-1]}"

    def joining(self, how: str, following: str) -> str:
        """Return the `and` or `or` that stands before the thing that is `following`."""
        if self.language == "en":
            return how
        before, usual, sounds = ROWS[how]
        return before if sounds.match(following) else usual

    def days_again(self, text: str) -> str | None:
        """Return a day, a span of days or a moment that was written in English, or a day in figures; None for none."""
        if day := ENGLISH_DAY.fullmatch(text):
            return self._in_words(*day.groups())
        if days := ENGLISH_SPAN.fullmatch(text):
            return self.span_of_days(*_days_of_span(*days.groups()))
        if moment := ENGLISH_MOMENT.fullmatch(text):
            return f"{self._in_words(*moment.groups()[:4])}, {moment[5]}"
        return self.days_in_words(text) if IN_FIGURES.fullmatch(text) else None

    def days_in_words(self, text: str) -> str:
        """Return a text with the days that stand in it in figures, as 2026-03-04, in words; not those of a command."""
        parts = text.split("`")
        parts[::2] = [IN_FIGURES.sub(lambda found: self._in_place(found[0]), part) for part in parts[::2]]
        return "`".join(parts)

    def _in_place(self, written: str) -> str:
        try:
            return self.day(date.fromisoformat(written))
        except ValueError:  # a number that looks like a day
            return written

    def _in_words(self, weekday: str, day: str, month: str, year: str | None) -> str:
        """Return an English day, taken apart, in the words of the language; its year may not be known."""
        from babel.dates import get_day_names, get_month_names

        named = get_day_names("abbreviated", locale=self.language)[SHORT_WEEKDAYS.index(weekday)]
        of = get_month_names("abbreviated", locale=self.language)[SHORT_MONTHS.index(month) + 1]
        return f"{named} {day} {of}" + (f" {year}" if year else "")

    def _formatted(self, day: date, form: str) -> str:
        return _formatted(day, form, self.language)


@lru_cache(maxsize=1 << 12)  # a page names the same few days hundreds of times
def _formatted(day: date, form: str, language: str) -> str:
    from babel.dates import format_date

    return str(format_date(day, form, locale=language))


def _on_the_wall(instant: int | datetime, zone: str) -> date:
    at = instant if isinstance(instant, datetime) else datetime.fromtimestamp(instant, ZoneInfo(zone))
    return at.astimezone(ZoneInfo(zone)).date()


def _days_of_span(
    day: str, month: str | None, year: str | None, last_day: str, last_month: str, last_year: str
) -> tuple[date, date]:
    """Return the first and the last of days that were written as a span in English."""
    first = date(int(year or last_year), SHORT_MONTHS.index(month or last_month) + 1, int(day))
    return first, date(int(last_year), SHORT_MONTHS.index(last_month) + 1, int(last_day))
