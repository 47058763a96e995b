"""The result of a practice in eleven letters, to be read out or written down: which day, and which themes went well.

From the left, in bits: the scenario's edition (5), the day (14), which themes went well (18, the first theme lowest),
and what the phone drew so that no two practices are one (18): 55, as codes on paper hold. It tells no name and proves
nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

__all__ = ["MOST_THEMES", "Result", "read_result", "write_result"]

LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
LENGTH = 11
FIRST_DAY = date(2024, 1, 1)
EDITION_BITS, DAY_BITS, MOST_THEMES, DRAWN_BITS = 5, 14, 18, 18


@dataclass(frozen=True)
class Result:
    """When somebody practised, on which edition of the scenario, and which of its themes went well."""

    edition: int
    day: date
    well: tuple[str, ...]
    drawn: int = 0


def write_result(result: Result, themes: tuple[str, ...]) -> str:
    """Return a result as eleven letters, without the one that checks them; `themes` are the edition's, in order."""
    well = sum(1 << place for place, theme in enumerate(themes) if theme in result.well)
    bits = result.edition
    for value, width in (
        ((result.day - FIRST_DAY).days, DAY_BITS),
        (well, MOST_THEMES),
        (result.drawn, DRAWN_BITS),
    ):
        if not 0 <= value < 1 << width:
            raise ValueError(f"{value} does not fit {width} bits")
        bits = bits << width | value
    return "".join(LETTERS[bits >> 5 * place & 31] for place in reversed(range(LENGTH)))


def read_result(letters: str, themes: tuple[str, ...]) -> Result | None:
    """Return the result that eleven letters stand for; None where they name a theme that the edition has not."""
    bits = 0
    for letter in letters:
        bits = bits << 5 | LETTERS.index(letter)
    drawn, bits = bits & (1 << DRAWN_BITS) - 1, bits >> DRAWN_BITS
    well, bits = bits & (1 << MOST_THEMES) - 1, bits >> MOST_THEMES
    days, edition = bits & (1 << DAY_BITS) - 1, bits >> DAY_BITS
    if well >> len(themes):
        return None
    went_well = tuple(theme for place, theme in enumerate(themes) if well >> place & 1)
    return Result(edition, FIRST_DAY + timedelta(days=days), went_well, drawn)
