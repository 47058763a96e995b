"""Sentences that are told in the language of whoever reads them.

A sentence is made in English where something happens, and read elsewhere, later, by somebody of another language. So it
carries its pattern and what stands in it, and is plain English text to whoever asks for no more.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from functools import cached_property, lru_cache
from string import Formatter
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from evenhand.terms import words
from evenhand.terms.languages.catalogues import MEANT, Words, sentence

__all__ = ["ENGLISH", "DaySpan", "Moment", "Sentence", "Speech", "filled", "is_bare", "pattern_of", "said_of", "told"]


MOST_LISTED = 6
WHOLE: Mapping[str, Callable[[str], str]] = {
    "begun": lambda text: text[:1].upper() + text[1:],
    "low": lambda text: text[:1].lower() + text[1:],
    "before": lambda text: text.rstrip("."),
    "sentence": lambda text: text[:1].upper() + text[1:].rstrip(". ") + ".",
}
"""How what is said within is made a beginning, or a whole sentence."""
AMOUNTS: Mapping[str, Callable[[int], str]] = {
    "duration": words.as_duration,
    "hours": words.as_hours,
    "change": words.as_change,
}
"""What both languages write alike, but for how figures are grouped."""
GROUPED = re.compile(r"\d{1,3}(?:,\d{3})+")
BETWEEN = {"joined": sentence(" and "), "commas": sentence(", ")}
UNKNOWN, NONE = sentence("not known"), sentence("none")
AGO, AHEAD, DAYS = sentence("{rough} ago"), sentence("in {rough}"), sentence("days")
ONE_O_CLOCK = re.compile(r"\b([Ll])as (?=0?1:[0-5]\d)")
"""Spanish says `a la 01:30`, and `a las` for every other hour (Diccionario panhispánico de dudas, «hora»)."""
BEFORE_EL = re.compile(r"\b([Dd]e|[Aa]) \0el ")
"""Where what stands in a sentence begins with `el` behind `de` or `a`: Spanish writes `del` and `al`."""


WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
ENGLISH_DAY = re.compile(rf"({'|'.join(WEEKDAYS)}) (\d\d?) ({'|'.join(MONTHS)})(?: (\d{{4}}))?")
"""A day as `words.as_day` and `words.as_short_day` write it."""
FIGURE, A_DAY = r"[\d,]+", rf"(?:{ENGLISH_DAY.pattern.replace('(', '(?:').replace('(?:?:', '(?:')}|\d{{4}}-\d\d-\d\d)"
"""What stands in a sentence that was kept where its pattern asks for a figure, or for a day (a name in `_on`)."""
ENGLISH_SPAN = re.compile(
    rf"(?:{'|'.join(WEEKDAYS)}) (\d\d?)(?: ({'|'.join(MONTHS)}))?(?: (\d{{4}}))? "
    rf"to (?:{'|'.join(WEEKDAYS)}) (\d\d?) ({'|'.join(MONTHS)}) (\d{{4}})"
)
"""Days as `words.as_span_of_days` writes them: month and year stand once where they agree."""


E_BEFORE, U_BEFORE = (re.compile(sound, re.IGNORECASE) for sound in (r"h?[ií](?![aeou])", r"h?[oó]"))
ROWS = {"and": ("e", "y", E_BEFORE), "or": ("u", "o", U_BEFORE)}
"""What stands between things in a row, before its own sound and before others."""
APART = {"": "; ", "row": " "}
"""What stands between things in a row in any language; whole sentences follow each other in a `row`."""


class DaySpan(NamedTuple):
    """A span of days, both included, within a sentence."""

    first: date
    last: date


class Moment(NamedTuple):
    """An instant [s since 1970-01-01T00:00:00Z] within a sentence, told by the clocks of a zone."""

    instant: int | datetime
    zone: str


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

    In a pattern stand names in braces, each with how it is written:

    - {name}, {count:,} for a figure, {count:# punch|# punches} for what a count decides, {share:.0%}, {amount:pay}
    - {day}, {day:short}, {day:long}, {day:written} for `4 March 2026`, {day:iso} for one that English writes
      2026-03-04; {days} for a DaySpan
    - {at}, {at:short}, {at:clock}, {at:zoned} for a Moment
    - {time:duration}, {time:hours}, {time:change}, {time:ago} for seconds
    - {things:listed} for a row of up to six and how many more, {things:listed 3} of so many; {things:joined} with an
      and between any two, {things:commas} with none; {things} with semicolons, {things:or}, {things:row} sentence by
      sentence
    - {says:again} for what was kept in English; {says:begun} for what begins with a capital here, {says:low} for what
      begins with a small letter, {says:before} for what something follows, {says:sentence} for what stands by itself

    A Sentence within is told in the same language, and so is one in a row.
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
        literal if name is None else literal + write(given[name], spec) for literal, name, spec in _taken_apart(pattern)
    )


def is_bare(pattern: str) -> bool:
    """Whether a pattern says nothing by itself, such as `{name}, {day}`: what stands in it is all that is told."""
    return not any("|" in spec or any(map(str.isalpha, literal)) for literal, _, spec in _taken_apart(pattern))


@lru_cache(maxsize=1 << 12)  # a workplace of thousands says the same few patterns as often
def _taken_apart(pattern: str) -> tuple[tuple[str, str | None, str], ...]:
    return tuple((literal, name, spec or "") for literal, name, spec, _ in Formatter().parse(pattern))


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
        other = self.other(english)
        return self.filled(other, given) if given else other

    def other(self, pattern: str) -> str:
        """Return a pattern in the language; one that says nothing by itself is the same in every language."""
        return pattern if pattern not in self.words and is_bare(pattern) else self.words[pattern]

    def filled(self, pattern: str, given: Mapping[str, Any], write: Callable[[Any, str], str] | None = None) -> str:
        """Return a pattern of this language with what stands in it, and the article that fits a time."""
        write = write or self.written
        if self.language != "es":
            return filled(pattern, given, write)

        def marked(value: Any, spec: str) -> str:
            written = write(value, spec)
            return f"\0{written}" if written.startswith("el ") else written

        text = BEFORE_EL.sub(r"\1l ", filled(pattern, given, marked)).replace("\0", "")
        return ONE_O_CLOCK.sub(r"\1a ", text)

    def meaning(self, meant: str, english: str) -> str:
        """Return a word that means two things, as it is said of one of them (`msgctxt` in the catalogue)."""
        return self.words[f"{meant}{MEANT}{english}"]

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
            row = (
                one
                for value in text.given.values()
                for one in (value if isinstance(value, (list, tuple)) else (value,))
            )
            within = (one for one in row if isinstance(one, Sentence))
            return (text.pattern in self.words or is_bare(text.pattern)) and all(map(self.can_say, within))
        return text in self.words

    def retold(self, text: str) -> str:
        """Return a text that was kept in English as the pattern (of `kept`) that made it says it here.

        What stands in it is told again too. Where several patterns fit it is the one that has the most words of its
        own. As it was written where none fits, or where several do of which none fits more closely.
        """
        if self.language == "en" or not text:
            return text
        if text in self.kept:
            return self.kept[text]
        fits = {english: match for english, form in self._forms.items() if (match := form.fullmatch(text))}
        found = set()
        for english, match in fits.items():
            if any(self._is_within(one, english) and not self._is_within(english, one) for one in fits):
                continue  # another fits more closely: its own words stand where this one holds anything
            again = {name.rstrip("_"): "1" for name in match.groupdict()}  # a count of one may have no figure
            again |= {name.rstrip("_"): value for name, value in match.groupdict().items() if value is not None}
            found.add(self.filled(self.kept[english], again, self._again))
        if not found and (day := ENGLISH_DAY.fullmatch(text)):
            return _in_words_of(self.language, *day.groups())
        if not found and (days := ENGLISH_SPAN.fullmatch(text)):
            return self.span_of_days(*_days_of_span(*days.groups()))
        return found.pop() if len(found) == 1 else text

    def _is_within(self, pattern: str, other: str) -> bool:
        """Whether whatever is made by a pattern that is kept fits the other one too."""
        return self._forms[other].fullmatch(pattern) is not None

    def _again(self, text: str, spec: str) -> str:
        """Return what stands in a sentence that was kept in English."""
        if "|" in spec:
            return self._by_count(int(text.replace(",", "")), spec)
        return self.figure(int(text.replace(",", ""))) if spec == "," else self.retold(text)

    @cached_property
    def _forms(self) -> Mapping[str, re.Pattern[str]]:
        """Return what finds the sentences made by each pattern that is kept."""
        return {english: re.compile("".join(_formed(english)), re.DOTALL) for english in self.kept if "{" in english}

    # ---- how things are written

    def written(self, value: Any, spec: str = "") -> str:
        """Return a value within a sentence, as its specification (`told`) asks."""
        if spec in WHOLE:
            return WHOLE[spec](self.written(value))
        if isinstance(value, Sentence):
            if self.language == "en":
                return str(value)
            return self.filled(self.other(value.pattern), value.given)
        if isinstance(value, DaySpan):
            return self.span_of_days(value.first, value.last)
        if "|" in spec:
            return self._by_count(value, spec)
        if spec.startswith("listed"):
            if not value:
                return self(NONE)
            return self.listed([self.written(one) for one in value], int(spec[6:] or MOST_LISTED))
        if spec in BETWEEN:
            return self(BETWEEN[spec]).join(map(self.written, value))
        if isinstance(value, Moment):
            return self._moments[spec](*value)
        if isinstance(value, (list, tuple)) and spec in {*ROWS, *APART}:
            return self.row(value, spec)
        if isinstance(value, date):
            return self._days[spec](value)
        if spec in AMOUNTS:
            return self.grouped(AMOUNTS[spec](value))
        if spec == "pay":
            return self.pay(value)
        if spec == "ago":
            return self.ago(value)
        if spec == "again":
            return self.retold(value)
        if spec == ",":
            return self.figure(value)
        return self.share(value, spec) if spec.endswith("%") else format(value, spec)

    def _by_count(self, count: int, spec: str) -> str:
        """Return the one of two wordings that fits a count, with the figure in place of #."""
        one, _, many = spec.partition("|")
        return pattern_of(one, many, count).replace("#", self.figure(count))

    @property
    def _days(self) -> Mapping[str, Callable[[date], str]]:
        iso = date.isoformat if self.language == "en" else self.day
        days = {"": self.day, "short": self.short_day, "long": self.long_day, "written": self.written_day, "iso": iso}
        return {**days, "of_year": self.day_of_year}

    @property
    def _moments(self) -> Mapping[str, Callable[..., str]]:
        return {"": self.moment, "short": self.short_moment, "clock": words.as_clock, "zoned": self.zoned_moment}

    def share(self, part: float, spec: str) -> str:
        """Return a part of one in percent as Python's `spec` writes it: `12%`; in Spanish with a space before the sign.

        Source: Ortografía de la lengua española (2010), VIII 2.4: the sign stands apart from the figure.
        """
        written = format(part, spec)
        return written if self.language == "en" else written.replace("%", "\u00a0%")

    def pay(self, amount: Decimal | None) -> str:
        """Return an amount of pay with its cents, such as `0.00`, or that it is not known."""
        return words.as_pay(amount) if self.language == "en" or amount is not None else self(UNKNOWN)

    def ago(self, seconds: int) -> str:
        """Return how long ago, roughly: `3 h ago`, `hace 3 h`; `in 5 h`, `dentro de 5 h` where it lies ahead."""
        written = words.ago(seconds)
        if self.language == "en":
            return written
        rough = written.removeprefix("in ").removesuffix(" ago")
        rough = rough.replace("days", self(DAYS))
        return self(AHEAD if seconds < 0 else AGO, rough=rough)

    def row(self, things: Sequence[Any], spec: str = "") -> str:
        """Return things within a sentence in a row: `a; b`, or `a or b`, `a and b`, `a b` where `spec` says so."""
        told = [self.written(one) for one in things]
        if spec in APART:
            return APART[spec].join(told)
        if self.language == "en":
            return f" {spec} ".join(told)
        before, usual, sounds = ROWS[spec]
        return "".join(told[:1]) + "".join(f" {before if sounds.match(one) else usual} {one}" for one in told[1:])

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

    def zoned_moment(self, instant: int | datetime, zone: str) -> str:
        """Return `Wed 4 Mar 2026, 06:53 (America/Chicago)`."""
        return f"{self.moment(instant, zone)} ({zone})"

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
        also = "e" if re.match(r"(?:h?[ií])(?![aeou])", things[-1].lower()) else "y"
        return f"{', '.join(things[:-1])} {also} {things[-1]}"

    def _formatted(self, day: date, form: str) -> str:
        from babel.dates import format_date

        return str(format_date(day, form, locale=self.language))


def _on_the_wall(instant: int | datetime, zone: str) -> date:
    at = instant if isinstance(instant, datetime) else datetime.fromtimestamp(instant, ZoneInfo(zone))
    return at.astimezone(ZoneInfo(zone)).date()


def _days_of_span(
    day: str, month: str | None, year: str | None, last_day: str, last_month: str, last_year: str
) -> tuple[date, date]:
    """Return the first and the last of days that were written as a span in English."""
    first = date(int(year or last_year), MONTHS.index(month or last_month) + 1, int(day))
    return first, date(int(last_year), MONTHS.index(last_month) + 1, int(last_day))


def _in_words_of(language: str, weekday: str, day: str, month: str, year: str | None) -> str:
    """Return an English day, taken apart, in the words of another language; its year may not be known."""
    from babel.dates import get_day_names, get_month_names

    named = get_day_names("abbreviated", locale=language)[WEEKDAYS.index(weekday)]
    of = get_month_names("abbreviated", locale=language)[MONTHS.index(month) + 1]
    return f"{named} {day} {of}" + (f" {year}" if year else "")


def _formed(pattern: str) -> list[str]:
    """Return the parts of the regular expression that finds sentences made by a pattern."""
    seen: set[str] = set()
    parts = []
    for literal, name, spec, _ in Formatter().parse(pattern):
        parts.append(re.escape(literal))
        if name is not None and "|" in (spec or ""):
            ways = (re.escape(way).replace(r"\#", r"(?P<{}>[\d,]+)") for way in (spec or "").split("|"))
            parts.append("(?:" + "|".join(way.replace("{}", name + "_" * end) for end, way in enumerate(ways)) + ")")
        elif name is not None:
            holds = FIGURE if spec == "," else A_DAY if name.endswith("_on") else ".+?"
            parts.append(f"(?P={name})" if name in seen else f"(?P<{name}>{holds})")
            seen.add(name)
    return parts


class _AsWritten(dict[str, str]):
    """The words of English: every sentence as it stands in the code."""

    def __missing__(self, english: str) -> str:
        return english


ENGLISH = Speech("en", _AsWritten())
"""English as it stands in the code, whatever the catalogue holds."""
