"""Pay of one person's week, minute by minute and in fractions, written from the regulations and not from the code.

Slow and plain on purpose: every minute of work is looked at by itself. Whole minutes only. Sources: 29 CFR 778.109 (the
regular rate), 778.110-115, 778.117-120, 778.201-203, 778.208-209; Labor Code 515(d)(1) and (2), divided by
fewer hours where fewer are agreed (the Labor Commissioner's answers on overtime); 4 Cal.5th 542 (2018); 29 USC
206(a)(1)(C), Labor Code 1182.12 and 135 Cal.App.4th 314 (the minimum wage, in California of each hour), and 29 CFR
778.5 (it is reached before the regular rate is taken). Where the rate is that of a longer period, 29 USC 207(j), (k),
29 CFR 778.601, 553.233, every week owes what its period up to its end does, less what it owed up to the
week before.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from fractions import Fraction
from functools import cache
from math import floor
from zoneinfo import ZoneInfo

__all__ = ["Payment", "Person", "Rate", "Span", "Window", "lines_of"]

HALF = {"ordinary": Fraction(0), "overtime": Fraction(1, 2), "double": Fraction(1)}
WEEK = timedelta(days=7)
MINIMUM = {"federal": Fraction("7.25"), "california": Fraction("16.90")}  # an hour, in 2026


@dataclass(frozen=True)
class Rate:
    plan: str
    amount: Fraction
    since: date
    until: date
    reader: str = ""
    covers_h: Fraction = Fraction(40)
    floor: Fraction = Fraction(0)


@dataclass(frozen=True)
class Span:
    """Work from an instant on [s], for so many minutes."""

    starts: int
    minutes: int
    pay_class: str
    reader: str
    week: date


@dataclass(frozen=True)
class Payment:
    kind: str
    amount: Fraction
    first: date
    last: date


@dataclass(frozen=True)
class Window:
    kind: str
    week: date
    starts: int
    ends: int


@dataclass(eq=False)
class Person:
    california: bool
    zone: str
    rates: list[Rate]
    spans: list[Span]
    payments: list[Payment] = field(default_factory=list)
    windows: list[Window] = field(default_factory=list)
    extra: dict[str, tuple[Fraction, Fraction, bool]] = field(default_factory=dict)  # an hour, multiple, for the day
    period: tuple[date, int] | None = None  # the first day of any regular-rate period that is longer, and its days


@dataclass(frozen=True)
class Sum:
    """One sum of a week: paid, in the rate, creditable; `over_h` are the hours it is divided by, None for all."""

    paid: Fraction
    in_rate: Fraction
    credit: Fraction = Fraction(0)
    over_h: Fraction | None = None
    flat: bool = False
    by_hour: bool = False


def cents(amount: Fraction) -> int:
    """Return half up, away from zero."""
    return floor(abs(amount) * 100 + Fraction(1, 2)) * (1 if amount >= 0 else -1)


def rate_on(rates: Sequence[Rate], day: date, reader: str) -> Rate | None:
    for place in (reader, ""):
        holding = [rate for rate in rates if rate.reader == place and rate.since <= day <= rate.until]
        if holding:
            return holding[0] if len(holding) == 1 else None
    return None


@cache
def minutes_of(person: Person, week: date) -> list[tuple[int, str, Rate | None]]:
    """Return every minute of the week's work: its instant, its class and the rate of its day and reader.

    A span is one piece of work: the reader is where it began, the day is the one that each minute falls on.
    """
    minutes = []
    for span in person.spans:
        for at in range(span.starts, span.starts + 60 * span.minutes, 60) if span.week == week else ():
            day = civil_day(person.zone, at // 3600)
            minutes.append((at, span.pay_class, rate_of(person, day, span.reader)))
    return minutes


@cache
def civil_day(zone: str, hour: int) -> date:
    """Return the day of an hour since 1970; the zones of these tests change days and offsets on the hour."""
    return datetime.fromtimestamp(hour * 3600, ZoneInfo(zone)).date()


@cache
def rate_of(person: Person, day: date, reader: str) -> Rate | None:
    return rate_on(person.rates, day, reader)


@cache
def sums_of(person: Person, week: date) -> list[Sum]:
    """Return what the week earned, payments for a longer time with their share."""
    minutes = minutes_of(person, week)
    by_rate = Counter(rate for _, _, rate in minutes if rate)
    straight = Counter(rate for _, pay_class, rate in minutes if pay_class == "ordinary")
    sums = []
    for rate, count in by_rate.items():
        hours = Fraction(count, 60)
        if rate.plan == "hourly":
            sums.append(Sum(rate.amount * hours, rate.amount * hours, by_hour=True))
        elif person.california or rate.plan == "salary_fixed":
            covers = min(Fraction(40), rate.covers_h) if rate.plan == "salary_fixed" else Fraction(40)
            if not person.california:
                covers = rate.covers_h
            # In California the salary pays for no minute of overtime, so each is owed beside it.
            by_salary = min(covers, Fraction(straight[rate], 60) if person.california else hours)
            paid = rate.amount + rate.amount / covers * (hours - by_salary)
            alone = len(by_rate) == 1
            sums.append(Sum(paid, rate.amount if alone else paid, over_h=covers if alone else None))
        else:
            sums.append(Sum(rate.amount, rate.amount))
    settled = [one for one in person.payments if week <= one.last < week + WEEK]
    sums += [entry_of(person, one, period_of(person, week)[0], week + WEEK) for one in settled]
    worked: Counter[tuple[str, Fraction]] = Counter()
    for window in person.windows:
        if window.week == week:
            for at, _, rate in minutes:
                if window.starts <= at < window.ends:
                    hourly = rate.amount if rate and rate.plan == "hourly" else Fraction(0)
                    worked[window.kind, hourly] += 1
    joined: Counter[tuple[str, Fraction]] = Counter()
    for (kind, hourly), count in worked.items():
        joined[kind, hourly if person.extra[kind][1] != 1 else Fraction(0)] += count
    for (kind, hourly), count in joined.items():
        an_hour, multiple, of_days = person.extra[kind]
        paid = (hourly * (multiple - 1) + an_hour) * Fraction(count, 60)
        credited = of_days and multiple >= Fraction(3, 2) and hourly > 0
        sums.append(Sum(paid, Fraction(0) if credited else paid, paid if credited else Fraction(0), by_hour=True))
    raised = raise_of(person, minutes, sums)
    return [*sums, Sum(raised, raised)] if cents(raised) else sums


def raise_of(person: Person, minutes: Sequence[tuple[int, str, Rate | None]], sums: Sequence[Sum]) -> Fraction:
    """Return what the week's hours lack to the minimum wage: together, in California each paid by the hour alone."""
    least = MINIMUM["california" if person.california else "federal"]
    alone = [rate.amount for _, _, rate in minutes if person.california and rate and rate.plan == "hourly"]
    short = sum((max(least - rate, Fraction(0)) / 60 for rate in alone), Fraction(0))
    averaged = len(minutes) - len(alone)
    if averaged:
        paid = sum(one.paid if one.over_h else one.in_rate for one in sums if not (person.california and one.by_hour))
        short += max(least * averaged / 60 - paid, Fraction(0))
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
    days = [since + timedelta(days=day) for day in range((until - since).days)]
    share = one.amount * sum(one.first <= day <= one.last for day in days) / ((one.last - one.first).days + 1)
    if one.kind == "premium":
        return Sum(one.amount, Fraction(0), credit=share)
    if one.kind in ("gift", "expense", "leave"):
        return Sum(one.amount, Fraction(0))
    return Sum(one.amount, share, flat=person.california and one.kind == "flat_bonus")


def hours_of(person: Person, weeks: Sequence[date]) -> dict[str, Fraction]:
    spans = [span for span in person.spans if span.week in weeks]
    return {name: Fraction(sum(span.minutes for span in spans if span.pay_class == name), 60) for name in HALF}


def rate_of_period(person: Person, weeks: Sequence[date], more: Sequence[Sum] = ()) -> Fraction:
    """Return the regular rate of these weeks together, `more` sums counted beside theirs."""
    whole = sum(hours_of(person, weeks).values())
    worked = [week for week in weeks if minutes_of(person, week)]
    sums = [one for week in weeks for one in sums_of(person, week)]
    salaries = [one for one in sums if one.over_h]
    others = [one.in_rate for one in (*sums, *more) if not one.over_h and not one.flat]
    if salaries and len(salaries) == len(worked):
        by_salary = sum(one.in_rate for one in salaries) / sum(one.over_h or 0 for one in salaries)
        return by_salary + sum(others, Fraction(0)) / whole
    return (sum((one.paid for one in salaries), Fraction(0)) + sum(others, Fraction(0))) / whole


def due_of(person: Person, weeks: Sequence[date], more: Sequence[Sum] = ()) -> tuple[Fraction, Fraction]:
    """Return what overtime and double time add in these weeks, and what of it credits have paid already."""
    hours = hours_of(person, weeks)
    if not any(hours.values()):
        return Fraction(0), Fraction(0)
    due = rate_of_period(person, weeks, more) * sum(HALF[name] * hours[name] for name in HALF)
    credited = [one.credit for one in (*more, *(one for week in weeks for one in sums_of(person, week)))]
    return due, min(due, sum(credited, Fraction(0)))


def flats_of(person: Person, week: date, sums: Sequence[Sum]) -> list[Fraction]:
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
    return lines + [("reopened", cents(amount)) for amount in reopened_of(person, week)]


def reopened_of(person: Person, week: date) -> list[Fraction]:
    """Return what each payment of the week that was earned in earlier periods too owes for each of those."""
    owed = []
    longer = [one for one in person.payments if begins(one.first) < begins(one.last)]
    for one in longer:
        earlier = [other for other in longer if begins(other.last) < week]
        for since, until in sorted({period_of(person, span.week) for span in person.spans}):
            if begins(one.last) != week or not (begins(one.first) < until <= period_of(person, week)[0]):
                continue
            past = [since + timedelta(days=day) for day in range(0, (until - since).days, 7)]
            before = [
                share
                for other in earlier
                if not since <= begins(other.last) < until and (share := entry_of(person, other, since, until)).in_rate
            ]
            after = [*before, entry_of(person, one, since, until)]
            more = due_less_credit(person, past, after) - due_less_credit(person, past, before)
            flats = [
                (sum(flats_of(person, past[0], sums), Fraction(0)), any(sum_.flat for sum_ in sums))
                for sums in ([*sums_of(person, past[0]), *before], [*sums_of(person, past[0]), *after])
            ]
            if not hours_of(person, past)["ordinary"] and flats[1][1]:
                continue
            more += flats[1][0] - flats[0][0]
            owed += [more] if more > 0 else []
    return owed


def due_less_credit(person: Person, weeks: Sequence[date], more: Sequence[Sum]) -> Fraction:
    due, credit = due_of(person, weeks, more)
    return due - credit


def begins(day: date) -> date:
    """Return the Sunday on or before the day."""
    return day - timedelta(days=(day.weekday() + 1) % 7)
