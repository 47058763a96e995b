"""What the oracle makes of one person: hours by workweek, questions, premium hours, and the lines of pay."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import cache, lru_cache
from itertools import chain, repeat

from tests.oracle import owed
from tests.oracle.classes import LAWS, Time
from tests.oracle.clocks import DAY, clock_of, date_of, workdays_of
from tests.oracle.invented import DAYS_OF_CLOCK, WINDOWS, Place, Somebody, Window
from tests.oracle.limits import Breach, breaches_of
from tests.oracle.pay import lines_of
from tests.oracle.punches import Record, Run, record_of
from tests.oracle.wages import Alike, Person, Premium, priced

__all__ = ["Result", "expected_of"]

CLASSES = {1: "ordinary", 2: "overtime", 3: "double"}
MINUTE_S = 60


@dataclass(frozen=True)
class Result:
    """What is held against the rooms.

    `hours`: recorded, ordinary, overtime and double seconds by workweek. `asked`: kind and instant of each question.
    `owed`: workday, kind and hours. `lines`: part and cents by workweek.
    `breaches`: of rests and breaks, where the law limits working time.
    """

    hours: Mapping[date, tuple[int, ...]]
    asked: frozenset[tuple[str, int]]
    owed: tuple[tuple[date, str, Decimal], ...]
    lines: Mapping[date, tuple[tuple[str, int], ...]]
    breaches: frozenset[Breach] = frozenset()


@dataclass(frozen=True)
class Days:
    """Of each minute from `begins` on: civil day, workday, workweek, and the place among `shared` of what it has.

    That is, with others: workweek, workday, civil day and windows.
    """

    begins: int
    civil: list[int]
    workdays: list[int]
    weeks: list[int]
    places: list[int]
    shared: list[tuple[int, int, int, tuple[str, ...]]]


@lru_cache(maxsize=24)
def _days_of(zone: str, first: date, starts: int, week_day: int) -> Days:
    clock = clock_of(zone, first, DAYS_OF_CLOCK)
    workdays = workdays_of(zone, first, DAYS_OF_CLOCK, starts)
    civil = [shown // DAY for shown in clock.civil]
    weeks = [day - (day + 3 - week_day) % 7 for day in workdays]
    numbers: dict[tuple[int, int, int, tuple[str, ...]], int] = {}
    places = [
        numbers.setdefault((week, workday, shown // DAY, _windows_at(shown % (7 * DAY))), len(numbers))
        for week, workday, shown in zip(weeks, workdays, clock.civil, strict=True)
    ]
    return Days(clock.begins, civil, workdays, weeks, places, list(numbers))


@cache
def _windows_at(shown: int) -> tuple[str, ...]:
    """Return the windows that hold a civil minute of a week that begins as 1970 did."""
    return tuple(name for name, window in WINDOWS.items() if _holds(window, shown))


def _holds(window: Window, shown: int) -> bool:
    today, minute = (shown // DAY + 3) % 7, shown % DAY
    if window.starts < window.ends:
        return today in window.days and window.starts <= minute < window.ends
    return (today in window.days and minute >= window.starts) or (
        (today - 1) % 7 in window.days and minute < window.ends
    )


def expected_of(place: Place, one: Somebody) -> Result:
    """Return what the laws and settings of a site make of somebody's presentations."""
    record = record_of(one.presses, place.settings, one.planned)
    days = _days_of(place.zone, place.first, place.week_minute, place.week_day)

    def of(runs: list[Run], column: list[int]) -> list[int]:
        slices = (column[run.since - days.begins : run.until - days.begins] for run in runs)
        return list(chain.from_iterable(slices))

    recorded, paid = record.recorded(), record.paid()
    minutes = list(chain.from_iterable(range(run.since, run.until) for run in paid))
    time = Time(minutes, of(paid, days.civil), of(paid, days.workdays), of(paid, days.weeks))
    classes = LAWS[place.law](time, place.told_of(one))
    amounts: dict[int, list[int]] = {}
    for week, count in Counter(of(recorded, days.weeks)).items():
        amounts.setdefault(week, [0, 0, 0, 0])[0] += count * MINUTE_S
    readers = chain.from_iterable(repeat(run.reader, run.until - run.since) for run in paid)
    alike = Counter(zip(of(paid, days.places), classes, readers, strict=True))
    for (number, pay_class, _), count in alike.items():
        amounts.setdefault(days.shared[number][0], [0, 0, 0, 0])[pay_class] += count * MINUTE_S
    premiums = _premiums(place, one, record, days)
    hours = {date_of(week): tuple(seconds) for week, seconds in amounts.items()}
    lines: dict[date, tuple[tuple[str, int], ...]] = {}
    if one.rates:
        begun: dict[date, dict[date, str]] = {}
        for run in reversed({run.shift: run for run in reversed(paid)}.values()):
            place_of = run.since - days.begins
            of_week = begun.setdefault(date_of(days.weeks[place_of]), {})
            of_week.setdefault(date_of(days.civil[place_of]), run.reader)
        lines = _lines(place, one, days, alike, premiums, begun)
    told = tuple(sorted((workday, kind, Decimal(units).scaleb(-4)) for _, workday, kind, units in premiums))
    asked = frozenset((kind, at * MINUTE_S) for kind, at in record.asked)
    limited = breaches_of(paid, clock_of(place.zone, place.first, DAYS_OF_CLOCK)) if place.law == "eu_2003_88" else ()
    return Result(hours, asked, told, lines, frozenset(limited))


def _premiums(place: Place, one: Somebody, record: Record, days: Days) -> list[tuple[date, date, str, int]]:
    """Return workweek, workday, kind and ten-thousandths of an hour of what is owed, as presumed and as decided."""

    def day_of(minute: int) -> int:
        return days.workdays[minute - days.begins]

    found = owed.call_backs(record, day_of)
    if place.law == "california":
        found += owed.in_california(record, day_of, (place.first_meal_waived, place.second_meal_waived))
    last = {(decision.workday, decision.kind): decision for decision in one.decisions}
    standing = {key: decision for key, decision in last.items() if decision.action != "presume"}

    def week_of(day: int) -> int:
        return day - (day + 3 - place.week_day) % 7

    kept = [
        (date_of(week_of(day)), date_of(day), kind, round(Fraction(seconds * 10_000, 3600)))
        for day, kind, seconds in found
        if (date_of(day), kind) not in standing
    ]
    present = {date_of(days.weeks[act.at - days.begins]) for act in record.acts}
    for decision in standing.values():
        week = place.begins(decision.workday)
        if decision.action == "owe" and week in present:
            kept.append((week, decision.workday, decision.kind, decision.units))
    return kept


def _lines(
    place: Place,
    one: Somebody,
    days: Days,
    alike: Counter[tuple[int, int, str]],
    premiums: list[tuple[date, date, str, int]],
    begun: Mapping[date, Mapping[date, str]],
) -> dict[date, tuple[tuple[str, int], ...]]:
    weeks: dict[date, Counter[Alike]] = {}
    for (number, pay_class, reader), count in alike.items():
        week, workday, day, windows = days.shared[number]
        extra = tuple(name for name in windows if name in place.differentials)
        minute = Alike(date_of(workday), date_of(day), extra, CLASSES[pay_class], reader)
        weeks.setdefault(date_of(week), Counter())[minute] += count
    owed_in: dict[date, list[Premium]] = {}
    for begins, workday_of, kind, units in premiums:
        owed_in.setdefault(begins, []).append(Premium(workday_of, kind, units))
    extra_paid = {name: WINDOWS[name].pays for name in place.differentials}
    payments = [priced(one.rates, payment) for payment in one.payments]
    employed = (one.hired_on or date.min, one.left_on or date.max)
    terms = (extra_paid, place.week_day, place.rate_period, begun, employed)
    person = Person(place.law, one.rates, weeks, payments, owed_in, *terms)
    settled = {person.begins(payment.last) for payment in one.payments}
    found: dict[date, tuple[tuple[str, int], ...]] = {}
    for week_begins in weeks.keys() | settled:
        lines = [line for line in lines_of(person, week_begins) if line[1]]
        if lines:
            found[week_begins] = tuple(sorted(lines))
    return found
