"""How days and times are written on what a round shows and prints."""

from __future__ import annotations

from datetime import date

from evenhand.terms.words import as_clock

__all__ = ["clock_in", "day_in"]


def day_in(language: str, day: date) -> str:
    """Return a day in full, such as Monday, March 9, 2026, or lunes, 9 de marzo de 2026."""
    from babel.dates import format_date

    return str(format_date(day, "full", locale=language))


def clock_in(zone: str, instant: int | None, *, is_named: bool = False) -> str:
    """Return a time of day in a zone, such as 07:30, with the zone's letters where it `is_named`; nothing for none."""
    return "" if instant is None else as_clock(instant, zone, is_named=is_named)
