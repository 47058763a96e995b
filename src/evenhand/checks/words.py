"""How findings say who, when and how many."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from evenhand.checks.facts import Facts

__all__ = ["as_clock", "as_day", "as_duration", "as_moment", "call", "counted", "deadline", "listed"]


def call(facts: Facts, person: str | None) -> str:
    """Return the person's name with the identifier behind it, or the identifier where no name is known."""
    name = facts.names.get(person or "")
    return f"{name} ({person})" if name else str(person)


def as_clock(instant: int, zone: str) -> str:
    """Return the time on the wall, such as 07:58."""
    return f"{datetime.fromtimestamp(instant, ZoneInfo(zone)):%H:%M}"


def as_day(day: date) -> str:
    """Return the day, such as Wednesday 4 March 2026."""
    return f"{day:%A} {day.day} {day:%B %Y}"


def as_moment(instant: int, zone: str) -> str:
    """Return day, time and zone, such as 4 March 2026 07:58 (America/Chicago)."""
    local = datetime.fromtimestamp(instant, ZoneInfo(zone))
    return f"{local.day} {local:%B %Y %H:%M} ({zone})"


def as_duration(minutes: int) -> str:
    """Return minutes as hours and minutes, such as 7 h 30 min."""
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest} min" if hours and rest else f"{hours} h" if hours else f"{rest} min"


def counted(count: int, one: str, many: str = "") -> str:
    """Return the count with its noun, such as 1 punch or 3 punches."""
    return f"{count:,} {one if count == 1 else many or one + 's'}"


def listed(things: Sequence[str], most: int = 6) -> str:
    """Return the things in a row, such as 'a, b and c', and how many more there are beyond `most`."""
    shown = list(things[:most])
    if len(things) > most:
        shown.append(f"{len(things) - most:,} more")
    return shown[0] if len(shown) == 1 else ", ".join(shown[:-1]) + " and " + shown[-1] if shown else "none"


def deadline(facts: Facts) -> datetime:
    """Return the instant by which payroll wants the file."""
    return datetime.fromtimestamp(facts.period.deadline, UTC)
