"""How findings name people, and the deadline they are up against."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime

from evenhand.checks.facts import Facts
from evenhand.terms.words import as_clock, as_day, as_named_clock, called

__all__ = ["call", "clock", "deadline", "with_days"]

ISO_DAY = re.compile(r"(?<![\w./-])\d{4}-\d\d-\d\d(?![\w/-]|\.\w)")
"""A day that stands by itself: neither within the name of a file nor of a round."""


def call(facts: Facts, person: str | None) -> str:
    """Return the person's name with the identifier behind it, or the identifier where no name is known."""
    return called(facts.names.get(person or ""), str(person))


def clock(facts: Facts, at: int, zone: str) -> str:
    """Return the time on the wall in `zone`, with the zone's letters where the workplace's people work in several."""
    return as_named_clock(at, zone) if facts.zones_meet else as_clock(at, zone)


def with_days(evidence: str) -> str:
    """Return what rooms tell as evidence, its days as sentences write them."""
    return ISO_DAY.sub(lambda found: as_day(date.fromisoformat(found[0])), evidence)


def deadline(facts: Facts) -> datetime:
    """Return the instant by which payroll wants the file."""
    return datetime.fromtimestamp(facts.period.deadline, UTC)
