"""Patterns of sentences: taken apart, filled with what stands in them, and found again in what they made."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from string import Formatter
from typing import Any

from evenhand.terms.words import ISO_DAY

__all__ = [
    "ENGLISH_DAY",
    "ENGLISH_MOMENT",
    "ENGLISH_SPAN",
    "IN_FIGURES",
    "SHORT_MONTHS",
    "SHORT_WEEKDAYS",
    "PatternsKept",
    "filled",
    "form_of",
    "is_bare",
    "pattern_of",
    "unnamed",
]

SHORT_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
SHORT_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
WEEKDAY, MONTH = "|".join(SHORT_WEEKDAYS), "|".join(SHORT_MONTHS)
ENGLISH_DAY = re.compile(rf"({WEEKDAY}) (\d\d?) ({MONTH})(?: (\d{{4}}))?")
"""A day as `words.as_day` and `words.as_short_day` write it."""
ENGLISH_MOMENT = re.compile(rf"{ENGLISH_DAY.pattern}, (\d\d:\d\d(?::\d\d)?)")
"""A moment as `words.as_moment` writes it."""
IN_FIGURES = re.compile(ISO_DAY.pattern + r"(?! \d\d:)")
"""A day in figures that stands by itself and is no part of a moment."""
ENGLISH_SPAN = re.compile(
    rf"(?:{WEEKDAY}) (\d\d?)(?: ({MONTH}))?(?: (\d{{4}}))? to (?:{WEEKDAY}) (\d\d?) ({MONTH}) (\d{{4}})"
)
"""Days as `words.as_span_of_days` writes them: month and year stand once where they agree."""
FIGURE, A_DAY = r"[\d,]+", rf"(?:(?:{WEEKDAY}) \d\d? (?:{MONTH})(?: \d{{4}})?|\d{{4}}-\d\d-\d\d)"
"""What stands in a sentence that was kept where its pattern asks for a figure, or for a day (a name in `_on`)."""


def pattern_of(one: str, many: str, count: int) -> str:
    """Return the pattern for a count, by the plural rule of English and Spanish."""
    return one if count == 1 else many


def unnamed(pattern: str) -> str:
    """Return a pattern with its places unnamed, as a frame's columns fill them in order (`polars.format`)."""
    return re.sub(r"\{\w+\}", "{}", pattern)


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


class PatternsKept:
    """The patterns of what rooms say in English and tables keep so, by which a text is found again."""

    def __init__(self, patterns: Iterable[str]) -> None:
        # hundreds are tried of every text: what stands in all that one makes is looked for before its form is
        self._forms = {one: (_longest_literal(one), form_of(one)) for one in patterns if "{" in one}

    def fitting(self, text: str) -> Mapping[str, Mapping[str, str]]:
        """Return the patterns that may have made a text and that no other fits more closely, with what stands in each.

        One fits more closely where its own words stand where the other holds anything.
        """
        tried = ((one, form.fullmatch(text)) for one, (literal, form) in self._forms.items() if literal in text)
        fits = {one: match for one, match in tried if match}
        return {
            one: _standing_in(match)
            for one, match in fits.items()
            if not any(self._is_within(other, one) and not self._is_within(one, other) for other in fits)
        }

    def _is_within(self, pattern: str, other: str) -> bool:
        """Whether whatever is made by a pattern fits the other one too."""
        return self._forms[other][1].fullmatch(pattern) is not None


def _longest_literal(pattern: str) -> str:
    """Return the longest part of a pattern that stands in every sentence made by it."""
    return max((literal for literal, _, _ in _taken_apart(pattern)), key=len)


def _standing_in(match: re.Match[str]) -> Mapping[str, str]:
    found = {name.rstrip("_"): "1" for name in match.groupdict()}  # a count of one may have no figure
    return found | {name.rstrip("_"): value for name, value in match.groupdict().items() if value is not None}


@lru_cache(maxsize=1 << 12)
def form_of(pattern: str) -> re.Pattern[str]:
    """Return what finds the sentences made by a pattern, and what stands in them by name.

    Where a count decides, the name of the second wording's figure has an underscore behind it.
    """
    seen: set[str] = set()
    parts = []
    for literal, name, spec in _taken_apart(pattern):
        parts.append(re.escape(literal))
        if name is not None and "|" in spec:
            ways = (re.escape(way).replace(r"\#", r"(?P<{}>[\d,]+)") for way in spec.split("|"))
            parts.append("(?:" + "|".join(way.replace("{}", name + "_" * end) for end, way in enumerate(ways)) + ")")
        elif name is not None:
            holds = FIGURE if spec == "," else A_DAY if name.endswith("_on") else ".+?"
            parts.append(f"(?P={name})" if name in seen else f"(?P<{name}>{holds})")
            seen.add(name)
    return re.compile("".join(parts), re.DOTALL)
