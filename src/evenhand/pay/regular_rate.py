"""The regular rate of a workweek and the overtime premium due on it.

Regular rate = all pay for the week except what the statute lists as excluded, over all hours worked that week
(29 CFR 778.109). Straight pay already pays every hour once, so each overtime hour is owed only what its multiple
adds: a half at one and a half times, a whole at double. Everything is an exact fraction; money is rounded once,
half up, for each sum the law treats as one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from evenhand.pay.earnings import Earning, total
from evenhand.terms.records import Refusal

__all__ = ["OvertimeDue", "flat_sum_by_straight_hours", "money", "overtime_due", "overtime_due_at_agreed_rate"]

TIME_AND_A_HALF = Fraction(3, 2)
DOUBLE = Fraction(2)


@dataclass(frozen=True)
class OvertimeDue:
    """What a week pays: exact amounts; `premium` is due, `credit` has been paid already, `owed` is the rest."""

    regular_rate: Fraction
    straight: Fraction
    premium: Fraction
    credit: Fraction

    @property
    def owed(self) -> Fraction:
        """Return the premium still owed after credits; credits beyond what is due are not carried over."""
        return max(Fraction(0), self.premium - self.credit)

    @property
    def total(self) -> Fraction:
        """Return all pay of the week."""
        return self.straight + self.owed


def overtime_due(earnings: Sequence[Earning], worked_s: int, overtime_s: Mapping[Fraction, int]) -> OvertimeDue:
    """Return the regular rate and the premium due on it.

    `worked_s` are all seconds worked in the week; `overtime_s` says how many of them are owed which multiple of
    the regular rate, such as {3/2: 14400}. With no seconds worked the rate is 0.
    Source: 29 CFR 778.109, 778.110-115, 778.201 (credits).
    """
    at_premium = sum(overtime_s.values())
    if worked_s < 0 or at_premium > worked_s:
        raise Refusal(f"{at_premium} overtime seconds cannot lie within {worked_s} seconds worked; recompute the week.")
    rate = sum((_per_hour(earning, worked_s) for earning in earnings), Fraction(0))
    due = sum((rate * (multiple - 1) * seconds / 3600 for multiple, seconds in overtime_s.items()), Fraction(0))
    credit = sum((earning.creditable for earning in earnings), Fraction(0))
    return OvertimeDue(rate, total(earnings), due, credit)


def overtime_due_at_agreed_rate(earnings: Sequence[Earning], agreed_rate: Fraction, overtime_s: int) -> OvertimeDue:
    """Return the premium at one and a half times the rate of the work done in overtime.

    Only under an agreement made before the work. Source: 29 USC 207(g)(2); 29 CFR 778.415-419.
    """
    due = agreed_rate * (TIME_AND_A_HALF - 1) * overtime_s / 3600
    return OvertimeDue(agreed_rate, total(earnings), due, Fraction(0))


def flat_sum_by_straight_hours(
    amount: Fraction, straight_s: int, overtime_s: Mapping[Fraction, int]
) -> tuple[Fraction, Fraction]:
    """Return a flat bonus's value per hour and the overtime owed on it where the law divides it so.

    The sum is divided by the hours worked that are not overtime, and each overtime hour is owed its whole
    multiple, not only what the multiple adds. Source: Alvarado v. Dart Container, 4 Cal.5th 542 (2018).
    """
    if straight_s <= 0:
        raise Refusal("a flat bonus needs hours that are not overtime to be divided by; this week has none.")
    per_hour = amount * 3600 / straight_s
    owed = sum((per_hour * multiple * seconds / 3600 for multiple, seconds in overtime_s.items()), Fraction(0))
    return per_hour, owed


def money(amount: Fraction) -> Decimal:
    """Return an exact amount rounded once to the cent, half up."""
    above, below = abs(amount.numerator), amount.denominator
    cents = (200 * above + below) // (2 * below)
    return Decimal(cents if amount >= 0 else -cents).scaleb(-2)


def _per_hour(earning: Earning, worked_s: int) -> Fraction:
    seconds = worked_s if earning.spread_s is None else earning.spread_s
    return earning.in_rate * 3600 / seconds if seconds else Fraction(0)
