"""How findings name people, and the deadline they are up against."""

from __future__ import annotations

from datetime import UTC, datetime

from evenhand.checks.facts import Facts
from evenhand.terms.words import called

__all__ = ["call", "deadline"]


def call(facts: Facts, person: str | None) -> str:
    """Return the person's name with the identifier behind it, or the identifier where no name is known."""
    return called(facts.names.get(person or ""), str(person))


def deadline(facts: Facts) -> datetime:
    """Return the instant by which payroll wants the file."""
    return datetime.fromtimestamp(facts.period.deadline, UTC)
