"""Sentences that are told in the language of whoever reads them.

A sentence is made in English where something happens, and read elsewhere, later, by somebody of another language. So it
carries its pattern and what stands in it, and is plain English text to whoever asks for no more.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cached_property
from string import Formatter
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from evenhand.terms import words
from evenhand.terms.languages.catalogues import Words

__all__ = ["ENGLISH", "DaySpan", "Sentence", "Speech", "filled", "pattern_of", "said_of", "told"]


class DaySpan(NamedTuple):
    """A span of days, both included, within a sentence."""

    first: date
    last: date


class Sentence(str):
    """A sentence in English, with the `pattern` and what is `given` in it, to be told in any language."""

    __slots__ = ("given", "pattern")
    pattern: str
    given: Mapping[str, Any]

    def __new__(cls, pattern: str, given: Mapping[str, Any]) -> Sentence:
        """Return the sentence; raises KeyError where something stands in it that is not given."""
        one = super().__new__(cls, filled(pattern, given, ENGLISH.written))
        one.pattern, one.given = pattern, given
        return one

    def __reduce__(self) -> tuple[type[Sentence], tuple[str, Mapping[str, Any]]]:
        """Return what makes the same sentence anew, for whoever copies it."""
        return Sentence, (self.pattern, self.given)


def told(pattern: str, /, **given: Any) -> Sentence:
    """Return a sentence of the catalogue with what stands in it.

    In a pattern stand names in braces: {name}, {count:,} for a figure, {day}, {day:short} and {day:long} for days,
    {days} for a DaySpan, {time:duration} for seconds, {says:again} for what was kept in English. A Sentence within is
    told in the same language.
    """
    return Sentence(pattern, given)


def pattern_of(one: str, many: str, count: int) -> str:
    """Return the pattern for a count, by the plural rule of English and Spanish."""
    return one if count == 1 else many


def said_of(refusal: BaseException) -> str:
    """Return what a refusal says, as it was made: Sentence where it can be told in another language."""
    said = refusal.args[0] if refusal.args else ""
    return said if isinstance(said, str) else str(said)


def filled(pattern: str, given: Mapping[str, Any], write: Callable[[Any, str], str]) -> str:
    """Return a pattern with what stands in it, each written by `write` as its specification says."""
    return "".join(
        literal if name is None else literal + write(given[name], spec or "")
        for literal, name, spec, _ in Formatter().parse(pattern)
    )


@dataclass(frozen=True)
class Speech:
    """Says English sentences in one language, and writes days, figures and lists as it does.

    `kept` are the patterns of what rooms say in English and tables keep so.
    """

    language: str
    words: Words
    kept: Words = field(default_factory=dict)

    def __call__(self, english: str, /, **given: Any) -> str:
        """Return the sentence in the language; raises KeyError for one that is not in the catalogue."""
        other = self.words[english]
        return filled(other, given, self.written) if given else other

    def counted(self, one: str, many: str, count: int, /, **given: Any) -> str:
        """Return the one of two sentences that fits a `count`, which stands in it as {count}."""
        return self(pattern_of(one, many, count), count=count, **given)

    def said(self, text: str) -> str:
        """Return a text in the language where it is Sentence or in the catalogue, and as it was written otherwise."""
        return self.written(text) if isinstance(text, Sentence) else self.words.get(text, text)

    def can_say(self, text: str) -> bool:
        """Whether a text, and all that is told within it, is in the catalogue."""
        if self.language == "en":
            return True
        if isinstance(text, Sentence):
            within = (one for one in text.given.values() if isinstance(one, Sentence))
            return text.pattern in self.words and all(map(self.can_say, within))
        return text in self.words

    def retold(self, text: str) -> str:
        """Return a text that was kept in English as the pattern (of `kept`) that made it says it here.

        What stands in it is told again too. As it was written where no pattern fits, or where several do that would
        not say the same.
        """
        if self.language == "en" or not text:
            return text
        if text in self.kept:
            return self.kept[text]
        found = set()
        for form, other in self._forms:
            if match := form.fullmatch(text):
                again = {name: self.retold(value) for name, value in match.groupdict().items()}
                found.add(filled(other, again, lambda value, _: value))
        return found.pop() if len(found) == 1 else text

    @cached_property
    def _forms(self) -> Sequence[tuple[re.Pattern[str], str]]:
        """Return each pattern that is kept as what finds the sentences made by it, and how it is said here."""
        return [
            (re.compile("".join(_formed(english)), re.DOTALL), other)
            for english, other in self.kept.items()
            if "{" in english
        ]

    # ---- how things are written

    def written(self, value: Any, spec: str = "") -> str:
        """Return a value within a sentence, as its specification (`told`) asks."""
        if isinstance(value, Sentence):
            if self.language == "en":
                return str(value)
            return filled(self.words[value.pattern], value.given, self.written)
        if isinstance(value, DaySpan):
            return self.span_of_days(value.first, value.last)
        if isinstance(value, date):
            return {"": self.day, "short": self.short_day, "long": self.long_day}[spec](value)
        if spec == "duration":
            return words.as_duration(value)
        if spec == "again":
            return self.retold(value)
        if spec == ",":
            return self.figure(value)
        return format(value, spec)

    def figure(self, count: int) -> str:
        """Return a whole number: 10,205 in English; in Spanish with a space, which no country reads as decimals."""
        # Source: Ortografía de la lengua española (2010), VIII 2.2.1: groups of three parted by a space, from five
        # figures on.
        if self.language == "en":
            return f"{count:,}"
        return f"{count:,}".replace(",", "\u00a0") if abs(count) >= 10_000 else str(count)

    def day(self, day: date) -> str:
        """Return `Wed 4 Mar 2026`, or `mié 4 mar 2026`."""
        return words.as_day(day) if self.language == "en" else self._formatted(day, "EEE d MMM y")

    def short_day(self, day: date) -> str:
        """Return `Wed 4 Mar`, or `mié 4 mar`."""
        return words.as_short_day(day) if self.language == "en" else self._formatted(day, "EEE d MMM")

    def long_day(self, day: date) -> str:
        """Return `Wednesday 4 March 2026`, or `miércoles 4 de marzo de 2026`."""
        return words.as_long_day(day) if self.language == "en" else self._formatted(day, "EEEE d 'de' MMMM 'de' y")

    def span_of_days(self, first: date, last: date) -> str:
        """Return `Sun 1 to Sat 14 Mar 2026`, or `del dom 1 al sáb 14 mar 2026`."""
        if self.language == "en":
            return words.as_span_of_days(first, last)
        begins = "EEE d" if (first.year, first.month) == (last.year, last.month) else "EEE d MMM"
        begins += "" if first.year == last.year else " y"
        return f"del {self._formatted(first, begins)} al {self.day(last)}"

    def moment(self, instant: Any, zone: str) -> str:
        """Return day and time on the wall in `zone`: `Wed 4 Mar 2026, 06:53`."""
        written = words.as_moment(instant, zone)
        if self.language == "en":
            return written
        _, _, clock = written.partition(", ")
        return f"{self.day(_on_the_wall(instant, zone))}, {clock}"

    def short_moment(self, instant: int, zone: str) -> str:
        """Return `Wed 4 Mar, 06:53`, with the seconds where there are any."""
        return f"{self.short_day(_on_the_wall(instant, zone))}, {words.as_clock(instant, zone)}"

    def listed(self, things: Sequence[str]) -> str:
        """Return things in a row: `a, b and c`; in Spanish `a, b y c`, with `e` before the sound of an i."""
        if self.language == "en" or len(things) < 2:
            return words.listed(things, len(things)) if things else ""
        also = "e" if re.match(r"(?:h?[ií])(?![aeou])", things[-1].lower()) else "y"
        return f"{', '.join(things[:-1])} {also} {things[-1]}"

    def _formatted(self, day: date, form: str) -> str:
        from babel.dates import format_date

        return str(format_date(day, form, locale=self.language))


def _on_the_wall(instant: int | datetime, zone: str) -> date:
    at = instant if isinstance(instant, datetime) else datetime.fromtimestamp(instant, ZoneInfo(zone))
    return at.astimezone(ZoneInfo(zone)).date()


def _formed(pattern: str) -> list[str]:
    """Return the parts of the regular expression that finds sentences made by a pattern."""
    seen: set[str] = set()
    parts = []
    for literal, name, _, _ in Formatter().parse(pattern):
        parts.append(re.escape(literal))
        if name is not None:
            parts.append(f"(?P={name})" if name in seen else f"(?P<{name}>.+?)")
            seen.add(name)
    return parts


class _AsWritten(dict[str, str]):
    """The words of English: every sentence as it stands in the code."""

    def __missing__(self, english: str) -> str:
        return english


ENGLISH = Speech("en", _AsWritten())
"""English as it stands in the code, whatever the catalogue holds."""
