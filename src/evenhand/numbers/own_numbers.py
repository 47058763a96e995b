"""Numbers people know by heart and key instead of their own: ends of telephones, house numbers, dates.

Common practice, no source: no published rate was found for any of them; the shares are learned from what is confirmed.
"""

from __future__ import annotations

import re
from datetime import date
from functools import cache

__all__ = ["FEWEST_DIGITS", "by_heart", "dates_as_keyed", "house_numbers", "phone_ends"]

FEWEST_DIGITS = 3
LONGEST = 8


def phone_ends(phone: str | None) -> tuple[str, ...]:
    """Return the last three to eight digits of a telephone number."""
    if not phone:
        return ()
    digits = re.sub(r"\D", "", phone)
    return tuple(digits[-length:] for length in range(FEWEST_DIGITS, min(len(digits) - 1, LONGEST) + 1))


def house_numbers(address: str | None) -> tuple[str, ...]:
    """Return the numbers in a street address of two digits or more, and padded with zeros to four."""
    if not address:
        return ()
    found = [digits for digits in re.findall(r"\d+", address) if 2 <= len(digits) <= LONGEST]
    return tuple(dict.fromkeys([*found, *(digits.zfill(4) for digits in found if len(digits) < 4)]))


@cache
def dates_as_keyed(day: date | None) -> tuple[str, ...]:
    """Return a date as people key it: day and month, month and day, with the year, and the year alone."""
    if day is None:
        return ()
    forms = ("%d%m", "%m%d", "%m%y", "%Y", "%d%m%y", "%m%d%y", "%y%m%d", "%d%m%Y", "%m%d%Y")
    return tuple(dict.fromkeys(day.strftime(form) for form in forms))


def by_heart(phone: str | None, address: str | None, day: date | None) -> dict[str, dict[str, float]]:
    """Return number -> {kind: P(number | kind)} for what a person knows by heart, among numbers of that length."""
    found: dict[str, dict[str, float]] = {}
    for kind, numbers in (
        ("phone", phone_ends(phone)),
        ("address", house_numbers(address)),
        ("date", dates_as_keyed(day)),
    ):
        for number in numbers:
            of_length = sum(len(other) == len(number) for other in numbers)
            found.setdefault(number, {})[kind] = 1 / of_length
    return found
