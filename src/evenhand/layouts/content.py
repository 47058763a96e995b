"""What the cells of a column look like: dates, times, digits, words for in and out, names of zones."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from zoneinfo import ZoneInfo

from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.dates import MIDNIGHT, parse_date
from evenhand.layouts.values.moments import split_moment
from evenhand.layouts.values.times import parse_time
from evenhand.layouts.values.words import WORDS, YES_NO, plain
from evenhand.terms.columns import Column

__all__ = ["Profile", "look_at", "naming"]

MOST = 0.7  # of the filled cells; a column holds what most of its cells hold, for some may be bad
SOME = 0.2  # what few rows of a bad file may still show
DIGIT = re.compile(r"\d")
NUMBER = re.compile(r"[$€£]? ?[+-]?\d+(?:[.,]\d+)*(?: ?[$€£])?$", re.ASCII)


@dataclass(frozen=True)
class Profile:
    """Shares, from 0 to 1, of the filled cells of a column that can be read as each kind; `filled` of all cells."""

    filled: float
    distinct: float
    moments: float
    dates: float
    times: float
    digits: float
    numbers: float
    fractions: float
    zones: float
    yes_no: float
    directions: float
    outcomes: float
    readers: float
    names: float

    @property
    def is_moment(self) -> bool:
        """Return whether the cells hold a date and a time of day."""
        return self.moments >= MOST

    @property
    def is_date(self) -> bool:
        """Return whether the cells hold a date alone."""
        return self.dates >= MOST and not self.is_moment

    @property
    def is_time(self) -> bool:
        """Return whether the cells hold a time of day alone."""
        return self.times >= MOST and not self.is_moment

    def suits(self, column: Column) -> float:
        """Return from 0 to 1 how well the cells suit the column, by themselves; -1 where they cannot be it."""
        if not self.filled:
            return 0.0
        if column.kind == "instant":
            return 1.0 if self.is_moment else 0.0 if self.moments >= SOME else -1.0
        if column.kind == "date":
            return max(self.dates, self.moments) if self.dates >= 0.5 or self.moments >= 0.5 else -1.0
        if column.kind == "count":
            return 0.0 if self.digits >= 0.5 else -1.0
        if column.kind in ("score", "money"):
            return -1.0 if self.numbers < 0.5 else (0.8 if self.fractions >= MOST else 0.1)
        if column.kind == "yes_no":
            return self.yes_no if self.yes_no >= MOST and self.distinct < 0.5 else 0.0
        return self._suits_text(column)

    def _suits_text(self, column: Column) -> float:
        if self.is_moment or (self.is_time and column.name in ("reader", "name", "direction", "outcome")):
            return -1.0
        match column.name:
            case "number":
                return -1.0 if self.digits < 0.5 else self.digits * 0.9
            case "zone":
                return self.zones if self.zones >= 0.5 else -1.0
            case "direction":
                return self.directions if self.directions >= MOST else 0.0
            case "outcome":
                return self.outcomes if self.outcomes >= MOST else 0.0
            case "reader":
                return max(self.readers, 0.3 if self.distinct < 0.2 and self.digits < MOST else 0.0)
            case "name":
                return -1.0 if self.digits > MOST or self.is_date else self.names * 0.7
        return 0.0


def look_at(cells: Sequence[str]) -> Profile:
    """Return the profile of a column from some of its cells, no reader being known."""
    filled = [text for text in (cell.strip() for cell in cells) if text]
    counts = Counter(filled)

    def share(test: Callable[[str], bool]) -> float:
        return sum(count for text, count in counts.items() if test(text)) / len(filled) if filled else 0.0

    return Profile(
        filled=len(filled) / max(len(cells), 1),
        distinct=len(counts) / max(len(filled), 1),
        # A sheet writes a date with its midnight; only beside other times of day is midnight one of them.
        moments=share(_is_moment) if any(_is_moment(text) and not MIDNIGHT.search(text) for text in counts) else 0.0,
        dates=share(_is_date),
        times=share(_is_time),
        digits=share(lambda text: text.isascii() and text.removesuffix(".0").isdigit()),
        numbers=share(lambda text: NUMBER.match(text) is not None),
        fractions=share(lambda text: re.fullmatch(r"[$€£]? ?\d+[.,]\d{1,4}(?: ?[$€£])?", text) is not None),
        zones=share(_is_zone),
        yes_no=share(lambda text: plain(text) in YES_NO),
        directions=share(lambda text: plain(text) in WORDS["direction"]),
        outcomes=share(lambda text: plain(text) in WORDS["outcome"]),
        readers=0.0,
        names=share(lambda text: re.fullmatch(r"[^\W\d_][^\d]*[ ,][^\d]*[^\W\d_]\.?", text) is not None),
    )


def naming(profile: Profile, cells: Sequence[str], known_readers: Collection[str]) -> Profile:
    """Return the profile of the cells with the share of them that name a reader."""
    readers = {_folded(reader) for reader in known_readers}
    filled = [cell for cell in cells if cell.strip()]
    named = sum(_folded(cell) in readers for cell in filled) if readers else 0
    return replace(profile, readers=named / len(filled)) if named else profile


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())


# The same days and times of day stand in many files.
@lru_cache(maxsize=1 << 14)
def _is_moment(text: str) -> bool:
    day, time = split_moment(text)
    return bool(time) and _is_date(day) and _is_time(time)


@lru_cache(maxsize=1 << 14)
def _is_date(text: str) -> bool:
    if not DIGIT.search(text) or (text.isdigit() and len(text) != 8):
        return False  # a serial number looks like any keyed number
    return any(_reads(partial(parse_date, text, order, 1900)) for order in ("dmy", "mdy", "ymd"))


@lru_cache(maxsize=1 << 14)
def _is_time(text: str) -> bool:
    return not text.isdigit() and DIGIT.search(text) is not None and _reads(lambda: parse_time(text))


def _is_zone(text: str) -> bool:
    # Dates with strokes are many, and looking for a zone that is not there is slow.
    return text[:1].isalpha() and ("/" in text or text in ("UTC", "GMT")) and _reads(lambda: ZoneInfo(text))


def _reads(parse: Callable[[], object]) -> bool:
    try:
        parse()
    except (Unfit, ValueError, OSError, KeyError):
        return False
    return True
