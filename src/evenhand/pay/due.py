"""What a workweek owes beyond straight pay: the regular rate, the overtime on it, credits, and flat bonuses."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from evenhand.pay.entries import Entry
from evenhand.pay.regular_rate import OvertimeDue, flat_sum_by_straight_hours, overtime_due
from evenhand.pay.stretches import WeekTime

__all__ = ["FlatDue", "WeekDue", "week_due"]


@dataclass(frozen=True)
class FlatDue:
    """A flat bonus's value for an hour that is not overtime, and what overtime hours are owed on it."""

    label: str
    per_hour: Fraction
    owed: Fraction


@dataclass(frozen=True)
class WeekDue:
    """The week's overtime in exact amounts; `flats` are flat bonuses divided by the straight hours."""

    overtime: OvertimeDue
    flats: tuple[FlatDue, ...]

    @property
    def regular_rate(self) -> Fraction:
        """Return the regular rate with the flat bonuses' value for an hour."""
        return self.overtime.regular_rate + sum((flat.per_hour for flat in self.flats), Fraction(0))

    @property
    def owed(self) -> Fraction:
        """Return all that is owed beyond straight pay."""
        return self.overtime.owed + sum((flat.owed for flat in self.flats), Fraction(0))


def week_due(week: WeekTime, entries: Sequence[Entry]) -> WeekDue:
    """Return what the week owes on these entries; a flat bonus of a week without straight hours raises Refusal."""
    beyond = week.beyond
    due = overtime_due([entry.earning for entry in entries if not entry.flat], week.worked_s, beyond)
    flats = [
        FlatDue(entry.earning.label, *flat_sum_by_straight_hours(entry.earning.in_rate, week.straight_s, beyond))
        for entry in entries
        if entry.flat
    ]
    return WeekDue(due, tuple(flats))
