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
from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction

from tests.oracle.earned import Sum, cents, entry_of, minutes_of, period_of, sums_of
from tests.oracle.wages import ZERO, Alike, Person, Rate, minimum_wage

__all__ = ["lines_of"]

HALF = {"ordinary": Fraction(0), "overtime": Fraction(1, 2), "double": Fraction(1)}


def so_far(person: Person, week: date) -> list[date]:
    """Return the weeks of the period up to the week."""
    since, _ = period_of(person, week)
    return [since + timedelta(days=day) for day in range(0, (week - since).days + 1, 7)]


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
