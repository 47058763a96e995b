"""The rooms' own results for a batch, in one go as the program has them, held against the oracle's person by person."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

import polars as pl

from evenhand.law import Hours, compute_hours, decide_premiums, find_breaches, pay_laws
from evenhand.pay import DifferentialRate, compute_pay, hourly_rates
from evenhand.terms.columns import Frame, Table
from evenhand.terms.hours import CLASSED, DIFFERENTIALS, PREMIUMS
from evenhand.terms.sources import PEOPLE, SCHEDULES
from evenhand.terms.tables import ATTRIBUTED, PREMIUM_DECISIONS
from evenhand.terms.wages import EARNINGS, RATES
from tests.oracle.clocks import date_of
from tests.oracle.expected import Result, expected_of
from tests.oracle.invented import DAYS_OF_CLOCK, WINDOWS, Batch, Somebody, invent
from tests.oracle.limits import Breach

__all__ = ["Differing", "found_of", "hold", "hold_seed", "smaller", "told_of"]

FOREVER = date(9999, 12, 31)
AGAIN = 2000
"""The most people tried while one that differs is made smaller."""


@dataclass(frozen=True)
class Differing:
    """A person of a batch for whom the oracle and the rooms say different things."""

    batch: Batch
    person: int
    expected: Result
    found: Result


def _money(amount: Fraction) -> Decimal:
    return Decimal(amount.numerator) / Decimal(amount.denominator)


def _frame(table: Table, rows: Iterable[tuple[Any, ...]], *names: str) -> Frame:
    columns = list(zip(*rows, strict=True))
    schema = {name: table.schema[name] for name in names}
    given = {name: pl.Series(name, columns[k] if columns else [], dtype=schema[name]) for k, name in enumerate(names)}
    return table.frame(given) if columns else table.empty()


def _number(person: int) -> str:
    return f"P{person:04}"


def _attributed(batch: Batch) -> Frame:
    presses = [
        (_number(who), press)
        for who, one in enumerate(batch.people)
        for press in sorted(one.presses, key=lambda press: press.at)
    ]
    zones = {"R1": batch.places[0].zone, "R2": batch.places[1].zone}
    rows = (
        (punch, who, press.reader, zones[press.reader], press.at * 60, press.way or None)
        for punch, (who, press) in enumerate(presses)
    )
    return _frame(ATTRIBUTED, rows, "punch", "person", "reader", "zone", "at", "direction")


def _rates(batch: Batch) -> Frame:
    rows = (
        (_number(who), rate.since, None if rate.until == FOREVER else rate.until, rate.reader or None, rate.plan,
         _money(rate.amount), rate.turn, _money(rate.covers_h), _money(rate.floor))
        for who, one in enumerate(batch.people)
        for rate in one.rates
    )  # fmt: skip
    names = ("person", "valid_from", "valid_to", "reader", "plan", "amount", "salary_for", "covers_hours", "floor")
    return _frame(RATES, rows, *names)


def _earnings(batch: Batch) -> Frame:
    rows = (
        (
            _number(who),
            paid.first,
            paid.last,
            paid.kind,
            None if paid.units else _money(paid.amount),
            paid.units or None,
            str(number),
        )
        for who, one in enumerate(batch.people)
        for number, paid in enumerate(one.payments)
    )
    return _frame(EARNINGS, rows, "person", "earned_from", "earned_to", "kind", "amount", "units", "label")


def _decisions(batch: Batch) -> Frame:
    decided = [(_number(who), decision) for who, one in enumerate(batch.people) for decision in one.decisions]
    rows = (
        (
            number,
            who,
            one.workday,
            one.kind,
            one.action,
            Decimal(one.units).scaleb(-4) if one.units else None,
            "Ida",
            "so",
        )
        for number, (who, one) in enumerate(decided)
    )
    names = ("decision", "person", "workday", "kind", "action", "hours", "author", "reason")
    return _frame(PREMIUM_DECISIONS, rows, *names)


def found_of(batch: Batch) -> list[Result]:
    """Return what the rooms make of everybody's punches, rates and earnings."""
    rules = {f"S{place}": one.rules(f"S{place}") for place, one in enumerate(batch.places)}
    roster = ((_number(who), "Ida", f"S{one.site}", one.hired_on, one.left_on) for who, one in enumerate(batch.people))
    people = _frame(PEOPLE, roster, "person", "name", "site", "hired_on", "left_on")
    planned = (
        (_number(who), starts * 60, ends * 60) for who, one in enumerate(batch.people) for starts, ends in one.planned
    )
    schedules = _frame(SCHEDULES, planned, "person", "starts_at", "ends_at")
    attributed, rates = _attributed(batch), _rates(batch)
    by_hour = hourly_rates(rates, people)
    every: list[Hours] = []
    for site, of_site in rules.items():
        theirs = attributed.join(people.filter(site=site), on="person", how="semi", maintain_order="left")
        beside: dict[str, Any] = {"keep_steps": False, "schedules": schedules, "rates": by_hour}
        every.append(compute_hours(theirs, of_site, batch.policy, **beside))
    weeks, questions = (pl.concat([getattr(hours, part) for hours in every]) for part in ("weeks", "questions"))
    owed = decide_premiums(pl.concat([hours.premiums for hours in every]), weeks, _decisions(batch))
    lines = _lines(batch, every, owed, attributed, people, rates, rules)
    limited = [find_breaches(hours.classed, of_site) for hours, of_site in zip(every, rules.values(), strict=True)]
    return _by_person(batch, weeks, questions, owed, lines, pl.concat(limited))


def _lines(
    batch: Batch, every: list[Hours], owed: Frame, attributed: Frame, people: Frame, rates: Frame, rules: Any
) -> Frame:
    """Return the lines of pay of those that are held in money."""
    paid = [_number(who) for who, one in enumerate(batch.people) if one.rates]
    theirs = pl.col("person").is_in(paid)
    first = batch.places[0].first
    named = {name: WINDOWS[name].pays for name in batch.places[0].differentials}
    pay = compute_pay(
        pl.concat([CLASSED.empty(), *(hours.classed for hours in every)]).filter(theirs),
        attributed.filter(theirs),
        people.filter(theirs),
        rates.filter(theirs),
        _earnings(batch).filter(theirs),
        rules,
        pay_laws([place.law for place in batch.places]),
        (first - timedelta(days=14), first + timedelta(days=DAYS_OF_CLOCK)),
        premiums=pl.concat([PREMIUMS.empty(), owed]).filter(theirs),
        differentials=pl.concat([DIFFERENTIALS.empty(), *(hours.differentials for hours in every)]).filter(theirs),
        differential_rates={name: DifferentialRate(*terms) for name, terms in named.items()},
    )
    return pay.lines.filter(pl.col("amount") != 0)


def _by_person(batch: Batch, weeks: Frame, questions: Frame, owed: Frame, lines: Frame, limited: Frame) -> list[Result]:
    hours: list[dict[date, tuple[int, ...]]] = [{} for _ in batch.people]
    names = ("person", "workweek", "recorded_s", "ordinary_s", "overtime_s", "double_s")
    for who, week, *seconds in weeks.select(names).iter_rows():
        if any(seconds):
            hours[int(who[1:])][week] = tuple(seconds)
    asked: list[set[tuple[str, int]]] = [set() for _ in batch.people]
    for who, kind, at in questions.select("person", "kind", "at").iter_rows():
        asked[int(who[1:])].add((kind, at))
    premiums: list[list[tuple[date, str, Decimal]]] = [[] for _ in batch.people]
    for who, *told in owed.select("person", "workday", "kind", "hours").iter_rows():
        premiums[int(who[1:])].append((told[0], told[1], told[2]))
    paid: list[dict[date, list[tuple[str, int]]]] = [{} for _ in batch.people]
    for who, week, part, amount in lines.select("person", "workweek", "part", "amount").iter_rows():
        paid[int(who[1:])].setdefault(week, []).append((part, int(amount * 100)))
    breaches: list[set[Breach]] = [set() for _ in batch.people]
    rests = limited.filter(pl.col("kind").is_in(["daily_rest", "weekly_rest", "break"]))
    for who, kind, *seconds in rests.select("person", "kind", "starts", "ends", "found_s").iter_rows():
        since, until, rest = (second // 60 for second in seconds)
        breaches[int(who[1:])].add((kind, since, until, rest))
    return [
        Result(
            hours[who],
            frozenset(asked[who]),
            tuple(sorted(premiums[who])),
            {week: tuple(sorted(lines)) for week, lines in paid[who].items()},
            frozenset(breaches[who]),
        )
        for who in range(len(batch.people))
    ]


def hold(batch: Batch) -> tuple[Counter[str], Differing | None]:
    """Return the person-weeks held against each other, by what they hold, and the first person that differs."""
    counted: Counter[str] = Counter()
    for who, (one, found) in enumerate(zip(batch.people, found_of(batch), strict=True)):
        place = batch.places[one.site]
        expected = expected_of(place, one)
        if found != expected:
            return counted, Differing(batch, who, expected, found)
        counted["weeks"] += len(expected.hours)
        counted[place.law] += len(expected.hours)
        counted["with overtime"] += sum(amounts[2] > 0 or amounts[3] > 0 for amounts in expected.hours.values())
        counted["paid"] += len(expected.lines.keys() & expected.hours.keys())
        counted.update({f"paid by: {rate.plan}": len(expected.lines) for rate in one.rates})
        counted["questions"] += len(expected.asked)
        counted.update(f"breaches: {kind}" for kind, *_ in expected.breaches)
        counted.update(f"premiums: {kind}" for _, kind, _ in expected.owed)
        counted.update(f"lines: {part}" for lines in expected.lines.values() for part, _ in lines)
    return counted, None


def hold_seed(seed: int, people: int) -> tuple[int, Counter[str], bool]:
    """Return the seed, what agrees of its batch, and whether somebody differs; small, to come from another process."""
    counted, differing = hold(invent(seed, people))
    return seed, counted, differing is not None


def _fewer(one: Somebody) -> Iterator[Somebody]:
    """Yield the same person with one thing less: halves of the punches first, then each thing alone."""
    half = len(one.presses) // 2
    if half > 1:
        yield replace(one, presses=one.presses[half:])
        yield replace(one, presses=one.presses[:half])
    for name in ("payments", "decisions", "planned", "presses", "rates"):
        listed = getattr(one, name)
        for at in range(len(listed)):
            if name != "rates" or listed[at].reader:
                yield replace(one, **{name: listed[:at] + listed[at + 1 :]})
    for name in ("hired_on", "left_on"):
        if getattr(one, name):
            yield replace(one, **{name: None})


def smaller(differing: Differing) -> Differing:
    """Return the person with as little as still differs, alone."""

    def alone(one: Somebody) -> Differing | None:
        return hold(Batch(batch.places, [one]))[1] if one.presses else None

    batch, tried = differing.batch, 0
    least = alone(batch.people[differing.person])
    if least is None:  # it differs only beside the others
        return differing
    shrinks = True
    while shrinks and tried < AGAIN:
        shrinks = False
        for fewer in _fewer(least.batch.people[0]):
            tried += 1
            if (still := alone(fewer)) is not None:
                least, shrinks = still, True
                break
    return least


def told_of(differing: Differing) -> Iterator[str]:
    """Yield a differing person in words: the rules, the punches, and what differs."""
    batch, one = differing.batch, differing.batch.people[differing.person]
    place = batch.places[one.site]
    yield f"rules: {place.rules('the site')}"
    yield f"policy: {batch.policy}"
    for press in sorted(one.presses, key=lambda press: press.at):
        day, minute = divmod(press.shown, 24 * 60)
        yield f"  {date_of(day)} {minute // 60:02}:{minute % 60:02} at {press.reader} {press.way} ({press.at * 60})"
    if one.hired_on or one.left_on:
        yield f"  employed from {one.hired_on} to {one.left_on}"
    for name in ("planned", "rates", "payments", "decisions"):
        yield from (f"  {name}: {each}" for each in getattr(one, name))
    for name in ("hours", "asked", "owed", "lines", "breaches"):
        expected, found = getattr(differing.expected, name), getattr(differing.found, name)
        if expected != found:
            yield f"expected {name}: {expected}"
            yield f"found    {name}: {found}"
