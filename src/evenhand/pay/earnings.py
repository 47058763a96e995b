"""What somebody earned in a workweek, under each plan of pay, before any overtime premium.

Amounts are exact fractions of the currency unit: nothing is rounded here. Each earning says whether it belongs
in the regular rate, and how much of it is an extra that may be credited against overtime premium due.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from evenhand.terms.records import Citation, Refusal

__all__ = [
    "Earning",
    "bonus",
    "commission",
    "day_or_job_rate",
    "excluded",
    "flat_sum",
    "hourly",
    "monthly_to_weekly",
    "piecework",
    "premium",
    "salary_for_hours",
    "salary_for_whatever_hours",
    "semimonthly_to_weekly",
]

Amount = Fraction


@dataclass(frozen=True)
class Earning:
    """One sum earned: `amount` is paid; `in_rate` is the part that counts in the regular rate.

    `creditable` is the part that may be set against overtime premium due. `spread_s` is set where the sum is
    divided not by the hours worked but by the seconds it was agreed to cover.
    """

    label: str
    amount: Amount
    in_rate: Amount
    cites: Citation
    creditable: Amount = Fraction(0)
    spread_s: int | None = None


def hourly(rate: Amount, seconds: int, label: str = "hourly pay") -> Earning:
    """Return straight pay for these seconds. Source: 29 CFR 778.110(a); for several rates, 778.115."""
    amount = _positive(rate, "hourly rate") * seconds / 3600
    return Earning(label, amount, amount, Citation("29 CFR 778.110(a), 778.115"))


def piecework(pieces: Amount, seconds: int, floor_rate: Amount | None = None) -> Earning:
    """Return piece earnings, or the guaranteed hourly floor for all hours where pieces fall short of it.

    Source: 29 CFR 778.111(a) and (b).
    """
    amount = _positive(pieces, "piece earnings")
    if floor_rate is not None:
        amount = max(amount, _positive(floor_rate, "guaranteed rate") * seconds / 3600)
    return Earning("piece earnings", amount, amount, Citation("29 CFR 778.111"))


def day_or_job_rate(rate: Amount, times: int) -> Earning:
    """Return a flat sum for each day or job, whatever the hours it took. Source: 29 CFR 778.112."""
    amount = _positive(rate, "day or job rate") * times
    return Earning("day or job rate", amount, amount, Citation("29 CFR 778.112"))


def salary_for_hours(weekly: Amount, covers_s: int, worked_s: int) -> Earning:
    """Return a salary that covers a fixed number of hours, with straight pay for the hours beyond those.

    Source: 29 CFR 778.113(a), 778.325.
    """
    if covers_s <= 0:
        raise Refusal("a salary for fixed hours needs the hours it covers; give a number above 0.")
    beyond = max(0, worked_s - covers_s)
    amount = _positive(weekly, "salary") * (covers_s + beyond) / covers_s
    return Earning("salary", amount, weekly, Citation("29 CFR 778.113(a), 778.325"), spread_s=covers_s)


def salary_for_whatever_hours(weekly: Amount) -> Earning:
    """Return a salary that covers all hours of a week whose hours fluctuate.

    Lawful only under all conditions of the rule, and not in every state. Source: 29 CFR 778.114.
    """
    return Earning("salary", _positive(weekly, "salary"), weekly, Citation("29 CFR 778.114"))


def monthly_to_weekly(monthly: Amount) -> Amount:
    """Return a month's salary by the week, times 12 and divided by 52. Source: 29 CFR 778.113(b)."""
    return monthly * 12 / 52


def semimonthly_to_weekly(semimonthly: Amount) -> Amount:
    """Return half a month's salary by the week, times 24 and divided by 52. Source: 29 CFR 778.113(b)."""
    return semimonthly * 24 / 52


def commission(amount: Amount, label: str = "commission") -> Earning:
    """Return a commission of this week, or the share of a later one. Source: 29 CFR 778.117, 778.118."""
    return Earning(label, amount, amount, Citation("29 CFR 778.117, 778.118"))


def bonus(amount: Amount, label: str = "bonus") -> Earning:
    """Return a promised bonus, or the week's share of one for a longer time. Source: 29 CFR 778.208, 778.209."""
    return Earning(label, amount, amount, Citation("29 CFR 778.208, 778.209"))


def flat_sum(amount: Amount, label: str = "flat sum") -> Earning:
    """Return a sum that does not vary with the hours: all in the rate, nothing creditable. Source: 778.310-.311."""
    return Earning(label, amount, amount, Citation("29 CFR 778.310, 778.311"))


def excluded(amount: Amount, label: str, where: str = "29 USC 207(e)(1)-(4)") -> Earning:
    """Return a sum that is paid and neither counts in the rate nor is credited: gifts, leave, expenses."""
    return Earning(label, amount, Fraction(0), Citation(where))


def premium(
    base_rate: Amount, premium_rate: Amount, seconds: int, *, for_hours: bool, label: str = "premium"
) -> Earning:
    """Return the extra above `base_rate` paid at `premium_rate` for these seconds.

    Extra paid because of the number of hours (`for_hours`: over 8 a day, over 40 a week) is creditable at any true
    premium rate. Extra for Saturdays, Sundays, holidays, rest days or hours outside the agreed day is creditable
    only from one and a half times the base rate on; below that it belongs in the regular rate.
    Source: 29 USC 207(e)(5)-(7) and (h); 29 CFR 778.202, 778.203.
    """
    extra = (premium_rate - base_rate) * seconds / 3600
    if extra < 0:
        raise Refusal(f"a premium rate of {float(premium_rate):.2f} is below the base rate {float(base_rate):.2f}.")
    if for_hours or premium_rate >= base_rate * 3 / 2:
        return Earning(label, extra, Fraction(0), Citation("29 USC 207(e)(5)-(7), (h)"), creditable=extra)
    return Earning(label, extra, extra, Citation("29 CFR 778.203, 778.207"))


def total(earnings: Sequence[Earning]) -> Amount:
    """Return what the earnings pay together."""
    return sum((earning.amount for earning in earnings), Fraction(0))


def _positive(amount: Amount, what: str) -> Amount:
    if amount < 0:
        raise Refusal(f"{what} is {float(amount):.2f}; an amount below zero cannot be earned.")
    return amount
