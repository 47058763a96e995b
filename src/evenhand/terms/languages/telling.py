"""Sentences that are told in the language of whoever reads them.

A sentence is made in English where something happens, and read elsewhere, later, by somebody of another language. So it
carries its pattern and what stands in it, and is plain English text to whoever asks for no more.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Any

from evenhand.terms import words
from evenhand.terms.languages.catalogues import MEANT, Words, sentence
from evenhand.terms.languages.patterns import PatternsKept, filled, is_bare, pattern_of
from evenhand.terms.languages.writing import ROWS, DaySpan, Moment, Writing

__all__ = ["ENGLISH", "OF_FILE", "Sentence", "Speech", "clock_told", "of_file", "said_of", "told"]

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
BETWEEN = {"joined": sentence(" and "), "commas": sentence(", ")}
UNKNOWN, NONE = sentence("not known"), sentence("none")
AGO, AHEAD, DAYS = sentence("{rough} ago"), sentence("in {rough}"), sentence("days")
ONE_O_CLOCK = re.compile(r"\b([Ll])as (?=0?1:[0-5]\d)")
"""Spanish says `a la 01:30`, and `a las` for every other hour (Diccionario panhispánico de dudas, «hora»)."""
BEFORE_EL = re.compile(r"\b([Dd]e|[Aa]) \0el ")
"""Where what stands in a sentence begins with `el` behind `de` or `a`: Spanish writes `del` and `al`."""
APART = {"": "; ", "row": " "}
"""What stands between things in a row in any language; whole sentences follow each other in a `row`."""
OF_FILE = "{file}: {says}"
"""What is said of a file: see `of_file`."""


class Sentence(str):
    """A sentence in English, with the `pattern` and what is `given` in it, to be told in any language."""

    __slots__ = ("given", "pattern", "told_by")
    pattern: str
    given: Mapping[str, Any]
    told_by: tuple[Speech, str] | None
    """What told it last, and what it said: what a page shows it says again at the next look."""

    def __new__(cls, pattern: str, given: Mapping[str, Any]) -> Sentence:
        """Return the sentence; raises KeyError where something stands in it that is not given."""
        one = super().__new__(cls, filled(pattern, given, ENGLISH.written))
        one.pattern, one.given, one.told_by = pattern, given, None
        return one

    def __reduce__(self) -> tuple[type[Sentence], tuple[str, Mapping[str, Any]]]:
        """Return what makes the same sentence anew, for whoever copies it."""
        return Sentence, (self.pattern, self.given)


def told(pattern: str, /, **given: Any) -> Sentence:
    """Return a sentence of the catalogue with what stands in it.

    In a pattern stand names in braces, each with how it is written:

    - {name}, {count:,} for a figure, {count:# punch|# punches} for what a count decides, {share:.0%}, {amount:pay}
    - {day}, {day:short}, {day:long}, {day:written} for `4 March 2026`, {day:iso} for one that English
      writes 2026-03-04; {days} for a DaySpan
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


def clock_told(instant: int, zone: str) -> Sentence:
    """Return a time on the wall in `zone`, which whoever reads it is told with its zone where two meet."""
    return told("{at:clock}", at=Moment(instant, zone))


def of_file(name: str, says: str) -> Sentence:
    """Return what is said of a file, whose name stands before it."""
    return told(OF_FILE, file=name, says=says)


def said_of(refusal: BaseException) -> str:
    """Return what a refusal says, as it was made: Sentence where it can be told in another language."""
    said = refusal.args[0] if refusal.args else ""
    return said if isinstance(said, str) else str(said)


@dataclass(frozen=True)
class Speech(Writing):
    """Says English sentences in one language, and writes days, figures and lists as it does.

    `kept` are the patterns of what rooms say in English and tables keep so.
    """

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

        text = filled(pattern, given, marked)
        if "\0" in text:
            text = BEFORE_EL.sub(r"\1l ", text).replace("\0", "")
        return ONE_O_CLOCK.sub(r"\1a ", text) if "as " in text else text

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
        """Return a text kept in English as the pattern (of `kept`) that made it says it here; a Sentence as it is told.

        What stands in it is told again too. Where several patterns fit it is the one that has the most words of its
        own. As it was written where none fits, or where several do of which none fits more closely.
        """
        if isinstance(text, Sentence):
            return self.written(text)
        if self.language == "en" or not text:
            return self.days_in_words(text)
        if text in self.kept:
            return self.kept[text]
        # most are a day, a number or a name of one word, which hundreds of patterns need not be tried on
        if (day := self.days_again(text)) or " " not in text:
            return day or text
        fits = self._patterns.fitting(text)
        found = {self.filled(self.kept[english], given, self._again) for english, given in fits.items()}
        if found:
            return found.pop() if len(found) == 1 else text
        one, parted, more = text.partition("; ")  # several of them in a row
        return f"{self.retold(one)}; {self.retold(more)}" if parted else text

    def _again(self, text: str, spec: str) -> str:
        """Return what stands in a sentence that was kept in English."""
        if "|" in spec:
            return self._by_count(int(text.replace(",", "")), spec)
        return self.figure(int(text.replace(",", ""))) if spec == "," else self.retold(text)

    @cached_property
    def _patterns(self) -> PatternsKept:
        return PatternsKept(self.kept)

    # ---- how things are written

    def written(self, value: Any, spec: str = "") -> str:
        """Return a value within a sentence, as its specification (`told`) asks."""
        if spec in WHOLE:
            return WHOLE[spec](self.written(value))
        if isinstance(value, Sentence):
            is_english = self.language == "en"
            if is_english and not self.names_zones:
                return str(value)
            if value.told_by is None or value.told_by[0] is not self:
                pattern = value.pattern if is_english else self.other(value.pattern)
                value.told_by = self, self.filled(pattern, value.given)
            return value.told_by[1]
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
            return self.moments[spec](*value)
        if isinstance(value, (list, tuple)) and spec in {*ROWS, *APART}:
            return self.row(value, spec)
        if isinstance(value, date):
            return self.days[spec](value)
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
        return "".join(told[:1]) + "".join(f" {self.joining(spec, one)} {one}" for one in told[1:])


class _AsWritten(dict[str, str]):
    """The words of English: every sentence as it stands in the code."""

    def __missing__(self, english: str) -> str:
        return english


ENGLISH = Speech("en", _AsWritten())
"""English as it stands in the code, whatever the catalogue holds."""
