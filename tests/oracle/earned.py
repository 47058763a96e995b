"""What each week of a person earns, sum by sum, raised to the minimum wage before the regular rate is taken.

Every minute of work is looked at by itself, those alike in everything together. Sources: 29 CFR 778.110-118, 778.207;
Labor Code 515(d)(1) and (2), divided by fewer hours where fewer are agreed (the Labor Commissioner's answers on
overtime), and 8 AAC 15.100(a); 135 Cal.App.4th 314 (the minimum wage of each hour) and 29 CFR 778.5.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from functools import lru_cache
from math import floor

from tests.oracle.wages import WEEK, ZERO, Alike, Payment, Person, Rate, minimum_wage, rate_on

__all__ = ["Sum", "cents", "entry_of", "minutes_of", "period_of", "sums_of"]

REMEMBERED = 256
"""Weeks whose minutes and sums are kept at hand: more than anybody has, far less than a run has."""


@dataclass(frozen=True)
class Sum:
    """One sum of a week: paid, in the rate, creditable; `over_h` are the hours it is divided by, None for all."""

    paid: Fraction
    in_rate: Fraction
    credit: Fraction = ZERO
    over_h: Fraction | None = None
    flat: bool = False
    by_hour: bool = False


Minutes = list[tuple[Alike, int, Rate | None]]


def cents(amount: Fraction) -> int:
    """Return half up, away from zero."""
    return floor(abs(amount) * 100 + Fraction(1, 2)) * (1 if amount >= 0 else -1)


@lru_cache(maxsize=REMEMBERED)
def minutes_of(person: Person, week: date) -> Minutes:
    """Return the minutes of the week's work, those alike together, with the rate of their day and reader."""
    alike = person.weeks.get(week, Counter[Alike]())
    return [(one, count, rate_on(person.rates, one.day, one.reader)) for one, count in alike.items()]


@lru_cache(maxsize=REMEMBERED)
def sums_of(person: Person, week: date) -> list[Sum]:
    """Return what the week earned, payments for a longer time with their share."""
    sums = [*_by_rate(person, week)]
    settled = [one for one in person.payments if week <= one.last < week + WEEK]
    pieces = [one for one in settled if one.kind == "piece" and one.first >= week]
    sums += _pieces(person, week, pieces)
    settled = [one for one in settled if one not in pieces]
    sums += [entry_of(person, one, period_of(person, week)[0], week + WEEK) for one in settled]
    sums += _differentials(person, week)
    raised = _raise_of(person, week, sums)
    return [*sums, Sum(raised, raised)] if cents(raised) else sums


def _by_rate(person: Person, week: date) -> list[Sum]:
    minutes = minutes_of(person, week)
    worked: Counter[Rate] = Counter()
    straight: Counter[Rate] = Counter()
    for one, count, rate in minutes:
        if rate:
            worked[rate] += count
            straight[rate] += count * (one.pay_class == "ordinary")
    sums = []
    for rate, count in worked.items():
        hours = Fraction(count, 60)
        if rate.plan == "hourly":
            sums.append(Sum(rate.amount * hours, rate.amount * hours, by_hour=True))
            continue
        if rate.plan in {"piece", "job"}:
            continue
        if rate.plan == "day":
            # A sum for each day on which a shift begins, whatever its hours (29 CFR 778.112).
            days = person.begun.get(week, {}).items()
            paid = rate.amount * sum(rate_on(person.rates, day, reader) == rate for day, reader in days)
            sums.append(Sum(paid, paid))
            continue
        # A salary that begins or ends within the week, or whose person does, pays its days of the seven; work on other
        # days alone, as on the day on which the week ends, is one of them.
        seven = [week + timedelta(days=day) for day in range(7)]
        seven = [day for day in seven if person.employed[0] <= day <= person.employed[1]]
        part = Fraction(max(1, sum(rate_on(person.rates, day, "") == rate for day in seven)), 7)
        salary, most = rate.weekly * part, person.treats.salary_h
        if most or rate.plan == "salary_fixed":
            agreed = [rate.covers_h] if rate.plan == "salary_fixed" else []
            covers = min([*agreed, *([Fraction(most)] if most else [])]) * part
            # Where the law says how many hours it pays for, it pays for no minute of overtime.
            by_salary = min(covers, Fraction(straight[rate], 60) if most else hours)
            paid = salary + salary / covers * (hours - by_salary)
            alone = len(worked) == 1
            sums.append(Sum(paid, salary if alone else paid, over_h=covers if alone else None))
        else:
            sums.append(Sum(salary, salary))
    return sums


def _pieces(person: Person, week: date, pieces: Sequence[Payment]) -> list[Sum]:
    """Return the week's pieces, together, raised to the floor for the hours paid by them (29 CFR 778.111)."""
    by_piece = [(count, rate) for _, count, rate in minutes_of(person, week) if rate and rate.plan == "piece"]
    least = max((rate.floor for _, rate in by_piece), default=ZERO) * Fraction(sum(count for count, _ in by_piece), 60)
    paid = max(sum((one.amount for one in pieces), ZERO), least)
    return [Sum(paid, paid)] if paid else []


def _hourly(rate: Rate | None) -> Fraction:
    return rate.amount if rate and rate.plan == "hourly" else ZERO


def _differentials(person: Person, week: date) -> list[Sum]:
    worked: Counter[tuple[str, Fraction]] = Counter()
    for one, count, rate in minutes_of(person, week):
        for kind in one.extra:
            hourly = _hourly(rate) if person.extra[kind][1] != 1 else ZERO
            worked[kind, hourly] += count
    sums = []
    for (kind, hourly), count in worked.items():
        an_hour, multiple, of_days = person.extra[kind]
        paid = (hourly * (multiple - 1) + an_hour) * Fraction(count, 60)
        credited = of_days and multiple >= Fraction(3, 2) and hourly > 0
        sums.append(Sum(paid, ZERO if credited else paid, paid if credited else ZERO, by_hour=True))
    return sums


def _raise_of(person: Person, week: date, sums: Sequence[Sum]) -> Fraction:
    """Return what the week's hours lack to the minimum wage: together, in California each paid by the hour alone."""
    each = person.treats.each_hour
    short, needed = ZERO, ZERO
    averaged = False
    for one, count, rate in minutes_of(person, week):
        least = minimum_wage(person.law, one.day)
        if each and rate and rate.plan == "hourly":
            short += max(least - rate.amount, ZERO) * Fraction(count, 60)
        else:
            needed, averaged = needed + least * Fraction(count, 60), True
    if averaged:
        paid = sum((one.paid if one.over_h else one.in_rate for one in sums if not (each and one.by_hour)), ZERO)
        short += max(needed - paid, ZERO)
    return short


def period_of(person: Person, week: date) -> tuple[date, date]:
    """Return the first day of the week's regular-rate period, and the day after its last."""
    if person.period is None:
        return week, week + WEEK
    anchor, days = person.period
    since = anchor + timedelta(days=(week - anchor).days // days * days)
    return since, since + timedelta(days=days)


def entry_of(person: Person, one: Payment, since: date, until: date) -> Sum:
    """Return a payment with its share for the days from `since` to the one before `until`."""
    shared = (min(one.last, until - timedelta(days=1)) - max(one.first, since)).days + 1
    share = one.amount * max(0, shared) / ((one.last - one.first).days + 1)
    if one.kind == "premium":
        return Sum(one.amount, ZERO, credit=share)
    if one.kind in ("gift", "expense", "leave"):
        return Sum(one.amount, ZERO)
    return Sum(one.amount, share, flat=person.treats.flat_by_straight and one.kind == "flat_bonus")
