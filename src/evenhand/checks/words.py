"""How findings name people, and the deadline they are up against."""

from __future__ import annotations

from datetime import UTC, datetime

from evenhand.checks.facts import Facts
from evenhand.terms.words import as_clock, called

__all__ = ["call", "clock", "deadline"]


def call(facts: Facts, person: str | None) -> str:
    """Return the person's name with the identifier behind it, or the identifier where no name is known."""
    return called(facts.names.get(person or ""), str(person))


def clock(facts: Facts, at: int, zone: str) -> str:
    """Return the time on the wall in `zone`, with the zone's letters where the workplace's people work in several."""
    return as_clock(at, zone, is_named=facts.zones_meet)


def deadline(facts: Facts) -> datetime:
    """Return the instant by which payroll wants the file."""
    return datetime.fromtimestamp(facts.period.deadline, UTC)
