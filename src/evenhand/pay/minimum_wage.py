"""The minimum wage of a day: the federal one, or a state's where that is higher; dated values stand beside.

Source: 29 USC 206(a)(1)(C); Labor Department Fact Sheets 53 and 54 (pay of the week over all hours worked).
"""

from __future__ import annotations

import tomllib
from datetime import date
from fractions import Fraction
from functools import cache, lru_cache
from importlib import resources

from evenhand.terms.records import Citation

__all__ = ["minimum_wage"]

FEDERAL = "us_federal"


@lru_cache(maxsize=1024)
def minimum_wage(jurisdiction: str, day: date) -> tuple[Fraction, Citation]:
    """Return the minimum hourly wage on `day` and its source; 0 before the first value that is known."""
    places = (jurisdiction,) if jurisdiction.startswith("eu_") else (FEDERAL, jurisdiction)
    known = [value for place in places if (value := _in_force(place, day)) is not None]
    return max(known, key=lambda value: value[0], default=(Fraction(0), Citation("no value known")))


def _in_force(place: str, day: date) -> tuple[Fraction, Citation] | None:
    entries = [entry for entry in _values().get(place, ()) if entry[0] <= day]
    return (entries[-1][1], entries[-1][2]) if entries else None


@cache
def _values() -> dict[str, tuple[tuple[date, Fraction, Citation], ...]]:
    text = resources.files("evenhand.pay").joinpath("minimum_wage.toml").read_text(encoding="utf-8")
    return {
        place: tuple(
            (entry["from"], Fraction(entry["value"], 100), Citation(entry["cites"], since=entry["from"]))
            for entry in table["values"]
        )
        for place, table in tomllib.loads(text).items()
    }
