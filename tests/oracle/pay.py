"""Pay of one person's weeks in fractions, written from the regulations and not from the code.

Every minute of work is looked at by itself, those alike in everything together. Sources: 29 CFR 778.109 (the regular
rate), 778.110-115, 778.117-120, 778.201-203, 778.208-209; Labor Code 515(d)(1) and (2), divided by fewer hours where
fewer are agreed (the Labor Commissioner's answers on overtime), and 8 AAC 15.100(a); 4 Cal.5th 542 (2018) (flat
bonuses); 11 Cal.5th 858 (2021) (premium hours at the regular rate with bonuses); 209 Cal.App.4th 556 (2012) (what a
split shift's hour is less); 29 USC 206(a)(1)(C), Labor Code 1182.12 and 135 Cal.App.4th 314 (the minimum wage, in
California of each hour), and 29 CFR 778.5 (it is reached before the regular rate is taken). Where the
rate is that of a longer period, 29 USC 207(j), (k), 29 CFR 778.601, 553.233, every week owes what its period up to its
end does, less what it owed up to the week before.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from fractions import Fraction
from functools import cache
from math import floor
from typing import NamedTuple

__all__ = ["LAWS", "Alike", "Payment", "Person", "Premium", "Rate", "lines_of", "minimum_wage", "priced", "rate_on"]

HALF = {"ordinary": Fraction(0), "overtime": Fraction(1, 2), "double": Fraction(1)}
TURNS = {"week": Fraction(1), "half_month": Fraction(24, 52), "month": Fraction(12, 52)}  # 29 CFR 778.113(b)
WEEK = timedelta(days=7)
ZERO = Fraction(0)

FEDERAL = {date(2009, 7, 24): "7.25"}  # 29 USC 206(a)(1)(C)
# An hour, from these days on, as the states' labor departments announced them; from memory.
STATES = {
    "california": {
        date(2022, 1, 1): "15.00", date(2023, 1, 1): "15.50", date(2024, 1, 1): "16.00", date(2025, 1, 1): "16.50",
        date(2026, 1, 1): "16.90",
    },
    "alaska": {
        date(2021, 1, 1): "10.34", date(2023, 1, 1): "10.85", date(2024, 1, 1): "11.73", date(2025, 1, 1): "11.91",
        date(2025, 7, 1): "13.00", date(2026, 7, 1): "14.00", date(2027, 7, 1): "15.00",
    },
    "nevada": {date(2022, 7, 1): "10.50", date(2023, 7, 1): "11.25", date(2024, 7, 1): "12.00"},
    "colorado": {
        date(2022, 1, 1): "12.56", date(2023, 1, 1): "13.65", date(2024, 1, 1): "14.42", date(2025, 1, 1): "14.81",
        date(2026, 1, 1): "15.16",
    },
}  # fmt: skip


@dataclass(frozen=True)
class Law:
    """How a law treats pay: whether each hour is held against the minimum wage by itself, how many weekly hours a
    salary pays for at most (none of them overtime; 0 as agreed), and whether a flat bonus goes by straight hours."""

    each_hour: bool = False
    salary_h: int = 0
    flat_by_straight: bool = False


LAWS = {"california": Law(each_hour=True, salary_h=40, flat_by_straight=True), "alaska": Law(salary_h=40)}
ANY = Law()


@cache
def minimum_wage(law: str, day: date) -> Fraction:
    """Return the highest minimum hourly wage that binds on the day; none where pay is left to national law."""
    if law == "eu_2003_88":
        return ZERO
    tables = (FEDERAL, STATES.get(law, {}))
    held = [
        Fraction(amounts[max(days)]) for amounts in tables if (days := [since for since in amounts if since <= day])
    ]
    return max(held, default=ZERO)


@dataclass(frozen=True)
class Rate:
    plan: str
    amount: Fraction
    since: date
    until: date
    reader: str = ""
    covers_h: Fraction = Fraction(40)
    floor: Fraction = Fraction(0)
    turn: str = "week"

    @property
    def weekly(self) -> Fraction:
        return self.amount * TURNS[self.turn]


class Alike(NamedTuple):
    """What a minute of work is paid by: its workday, civil day, differentials, class and the reader it began at."""

    workday: date
    day: date
    extra: tuple[str, ...]
    pay_class: str
    reader: str


class Premium(NamedTuple):
    """Hours of pay owed beside time worked, in ten-thousandths."""

    workday: date
    kind: str
    units: int


@dataclass(frozen=True)
class Payment:
    """What was earned beside the hours; where `units` are counted, `amount` is their rate's, put in by `priced`."""

    kind: str
    amount: Fraction
    first: date
    last: date
    units: int = 0


@dataclass(eq=False)
class Person:
    """Somebody's weeks of work [min] with what they are paid by.

    `extra` are differentials: an hour, multiple, for the day; `week_day` is where workweeks begin, 0 being Monday;
    `period` the first day of any regular-rate period that is longer than a week, and its days; `begun` are the civil
    days of each week on which shifts began, with the reader of the first; `employed` the first and last day of work.
    """

    law: str
    rates: list[Rate]
    weeks: Mapping[date, Counter[Alike]]
    payments: list[Payment] = field(default_factory=list)
    premiums: Mapping[date, list[Premium]] = field(default_factory=dict)
    extra: Mapping[str, tuple[Fraction, Fraction, bool]] = field(default_factory=dict)
    week_day: int = 6
    period: tuple[date, int] | None = None
    begun: Mapping[date, Mapping[date, str]] = field(default_factory=dict)
    employed: tuple[date, date] = (date.min, date.max)

    @property
    def treats(self) -> Law:
        return LAWS.get(self.law, ANY)

    def begins(self, day: date) -> date:
        """Return the beginning of the workweek that holds the day."""
        return day - timedelta(days=(day.weekday() - self.week_day) % 7)


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


def rate_on(rates: Sequence[Rate], day: date, reader: str) -> Rate | None:
    """Return the one rate that holds on the day, at the reader if there is one for it."""
    for place in (reader, ""):
        holding = [rate for rate in rates if rate.reader == place and rate.since <= day <= rate.until]
        if holding:
            return holding[0] if len(holding) == 1 else None
    return None


@cache
def minutes_of(person: Person, week: date) -> Minutes:
    """Return the minutes of the week's work, those alike together, with the rate of their day and reader."""
    alike = person.weeks.get(week, Counter[Alike]())
    return [(one, count, rate_on(person.rates, one.day, one.reader)) for one, count in alike.items()]


@cache
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


def priced(rates: Sequence[Rate], one: Payment) -> Payment:
    """Return a payment with the amount of its units: at the rate of the last day that earned them."""
    rate = rate_on(rates, one.last, "")
    return replace(one, amount=one.units * rate.amount) if one.units and rate else one


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


def so_far(person: Person, week: date) -> list[date]:
    """Return the weeks of the period up to the week."""
    since, _ = period_of(person, week)
    return [since + timedelta(days=day) for day in range(0, (week - since).days + 1, 7)]


def entry_of(person: Person, one: Payment, since: date, until: date) -> Sum:
    """Return a payment with its share for the days from `since` to the one before `until`."""
    shared = (min(one.last, until - timedelta(days=1)) - max(one.first, since)).days + 1
    share = one.amount * max(0, shared) / ((one.last - one.first).days + 1)
    if one.kind == "premium":
        return Sum(one.amount, ZERO, credit=share)
    if one.kind in ("gift", "expense", "leave"):
        return Sum(one.amount, ZERO)
    return Sum(one.amount, share, flat=person.treats.flat_by_straight and one.kind == "flat_bonus")


def hours_of(person: Person, weeks: Sequence[date]) -> dict[str, Fraction]:
    """Return the hours of each class in these weeks."""
    classes: Counter[str] = Counter()
    for week in weeks:
        for one, count, _ in minutes_of(person, week):
            classes[one.pay_class] += count
    return {name: Fraction(classes[name], 60) for name in HALF}


def rate_of_period(person: Person, weeks: Sequence[date], more: Sequence[Sum] = ()) -> Fraction:
    """Return the regular rate of these weeks together, `more` sums counted beside theirs."""
    whole = sum(hours_of(person, weeks).values())
    worked = [week for week in weeks if minutes_of(person, week)]
    sums = [one for week in weeks for one in sums_of(person, week)]
    salaries = [one for one in sums if one.over_h]
    others = [one.in_rate for one in (*sums, *more) if not one.over_h and not one.flat]
    if salaries and len(salaries) == len(worked):
        by_salary = sum(one.in_rate for one in salaries) / sum(one.over_h or 0 for one in salaries)
        return by_salary + sum(others, ZERO) / whole
    return (sum((one.paid for one in salaries), ZERO) + sum(others, ZERO)) / whole


def due_of(person: Person, weeks: Sequence[date], more: Sequence[Sum] = ()) -> tuple[Fraction, Fraction]:
    """Return what overtime and double time add in these weeks, and what of it credits have paid already."""
    hours = hours_of(person, weeks)
    if not any(hours.values()):
        return ZERO, ZERO
    due = rate_of_period(person, weeks, more) * sum(HALF[name] * hours[name] for name in HALF)
    credited = [one.credit for one in (*more, *(one for week in weeks for one in sums_of(person, week)))]
    return due, min(due, sum(credited, ZERO))


def flats_of(person: Person, week: date, sums: Sequence[Sum]) -> list[Fraction]:
    """Return what overtime is owed on each flat bonus that straight hours divide."""
    hours = hours_of(person, [week])
    if not hours["ordinary"]:
        return []
    multiple = hours["overtime"] * Fraction(3, 2) + hours["double"] * 2
    return [one.in_rate / hours["ordinary"] * multiple for one in sums if one.flat]


def owed_of(person: Person, week: date) -> list[int]:
    """Return the cents of overtime, double time, earlier weeks of the period, credits and flat bonuses.

    What a period owes up to a week is rounded once, and its later weeks have what is left of that.
    """
    weeks, own = so_far(person, week), hours_of(person, [week])
    if not any(hours_of(person, weeks).values()):
        return []
    rate = rate_of_period(person, weeks)
    beyond = [cents(rate * HALF[name] * own[name]) for name in ("overtime", "double")]
    due, credit = due_of(person, weeks)
    due_before, credit_before = due_of(person, weeks[:-1])
    paid_before = any(sums_of(person, one) for one in weeks[:-1])
    earlier = cents(due) - cents(due_before) - sum(beyond) if paid_before else 0
    flats = [cents(flat) for flat in flats_of(person, week, sums_of(person, week))]
    return [*beyond, earlier, cents(credit_before) - cents(credit), *flats]


def lines_of(person: Person, week: date) -> list[tuple[str, int]]:
    """Return part and cents of every line of the week."""
    sums = sums_of(person, week)
    lines = [("straight" if one.in_rate or one.credit else "excluded", cents(one.paid)) for one in sums if one.paid]
    lines += [("overtime", amount) for amount in owed_of(person, week) if amount]
    lines += [("premium", cents(amount)) for amount in premiums_of(person, week, sums)]
    return lines + [("reopened", cents(amount)) for amount in reopened_of(person, week)]


def premiums_of(person: Person, week: date, sums: Sequence[Sum]) -> list[Fraction]:
    """Return what each premium hour of the week is paid: at the regular rate, of a split shift by the minimum wage."""
    owed = person.premiums.get(week, [])
    straight = hours_of(person, [week])["ordinary"]
    if not owed or not any(hours_of(person, so_far(person, week)).values()):
        return []
    rate = rate_of_period(person, so_far(person, week))
    if straight:
        rate += sum((one.in_rate / straight for one in sums if one.flat), ZERO)
    found = []
    for premium in owed:
        premium_h = Fraction(premium.units, 10_000)
        if premium.kind != "split_shift":
            found.append(rate * premium_h)
            continue
        least = minimum_wage(person.law, premium.workday)
        needed, paid = least * premium_h, ZERO
        for one, count, held in minutes_of(person, week):
            if one.workday == premium.workday:
                worked = Fraction(count, 60)
                needed += least * worked
                paid += _paid_that_day(person, one, held, rate, least) * worked
        found.append(max(needed - paid, ZERO))
    return found


def _paid_that_day(person: Person, one: Alike, held: Rate | None, rate: Fraction, least: Fraction) -> Fraction:
    """Return what an hour of such minutes pays, raised to the minimum wage, with what is added and not credited."""
    if not held or held.plan != "hourly":
        return rate
    paid = max(held.amount, least)
    for kind in one.extra:
        an_hour, multiple, of_days = person.extra[kind]
        if not (of_days and multiple >= Fraction(3, 2)):
            paid += held.amount * (multiple - 1) + an_hour
    return paid


def reopened_of(person: Person, week: date) -> list[Fraction]:
    """Return what each payment of the week that was earned in earlier periods too owes for each of those."""
    owed = []
    longer = [one for one in person.payments if person.begins(one.first) < person.begins(one.last)]
    for one in longer:
        if person.begins(one.last) != week:
            continue
        earlier = [other for other in longer if person.begins(other.last) < week]
        for since, until in sorted({period_of(person, worked) for worked in person.weeks}):
            if not person.begins(one.first) < until <= period_of(person, week)[0]:
                continue
            past = [since + timedelta(days=day) for day in range(0, (until - since).days, 7)]
            before = [
                share
                for other in earlier
                if not since <= person.begins(other.last) < until
                and (share := entry_of(person, other, since, until)).in_rate
            ]
            share = entry_of(person, one, since, until)
            owed += _premiums_more(person, past, share)
            after = [*before, share]
            straight = sums_of(person, past[0])
            if not hours_of(person, past)["ordinary"] and any(entry.flat for entry in (*straight, *after)):
                continue
            more = _less_credit(person, past, after) - _less_credit(person, past, before)
            more += sum(flats_of(person, past[0], [share]), ZERO)
            owed += [more] if more > 0 else []
    return owed


def _less_credit(person: Person, weeks: Sequence[date], more: Sequence[Sum]) -> Fraction:
    due, credit = due_of(person, weeks, more)
    return due - credit


def _premiums_more(person: Person, past: Sequence[date], share: Sum) -> list[Fraction]:
    """Return what a share adds to the premium hours of these weeks that are owed at the regular rate."""
    owed = [premium for week in past for premium in person.premiums.get(week, [])]
    units = sum(premium.units for premium in owed if premium.kind != "split_shift")
    hours = hours_of(person, past)
    over = hours["ordinary"] if share.flat else sum(hours.values(), ZERO)
    return [share.in_rate / over * Fraction(units, 10_000)] if units and share.in_rate and over else []
