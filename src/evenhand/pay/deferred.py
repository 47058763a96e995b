"""Pay for a longer time, brought back to the weeks that earned it, and the overtime owed on it afterwards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from evenhand.terms.records import Refusal

__all__ = ["WeekShare", "additional_overtime", "by_weeks_earned", "equal_weeks", "month_to_week"]


@dataclass(frozen=True)
class WeekShare:
    """One week's share of a later payment, and the premium it still owes."""

    share: Fraction
    premium: Fraction


def equal_weeks(amount: Fraction, weeks: int) -> Fraction:
    """Return an equal share a week, where the weeks that earned it cannot be told. Source: 29 CFR 778.209(b)."""
    if weeks < 1:
        raise Refusal("a payment for a longer time needs the weeks that earned it; give at least one.")
    return amount / weeks


def month_to_week(amount: Fraction) -> Fraction:
    """Return a month's payment by the week, times 12 and divided by 52. Source: 29 CFR 778.120(a)(1)."""
    return amount * 12 / 52


def by_weeks_earned(amount: Fraction, earned: Sequence[Fraction]) -> list[Fraction]:
    """Return the shares in proportion to what each week earned. Source: 29 CFR 778.119, 778.209(a)."""
    whole = sum(earned, Fraction(0))
    if whole <= 0:
        raise Refusal(
            "none of the weeks earned anything, so the payment cannot be shared by earnings; share it equally."
        )
    return [amount * part / whole for part in earned]


def additional_overtime(share: Fraction, worked_s: int, overtime_s: int) -> WeekShare:
    """Return what a week owes once its share of a later payment is known.

    The coefficient is overtime hours over twice all hours; only the half is owed, since the payment itself is
    the straight pay. Source: 29 CFR 778.120, 778.209.
    """
    if worked_s <= 0:
        return WeekShare(share, Fraction(0))
    return WeekShare(share, share * Fraction(overtime_s, 2 * worked_s))
