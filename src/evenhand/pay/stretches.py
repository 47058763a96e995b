"""Paid time by person and workweek, cut where the rate changes."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from functools import cached_property, lru_cache

from evenhand.pay.rates import PersonRates, Rate
from evenhand.pay.regular_rate import DOUBLE, TIME_AND_A_HALF
from evenhand.terms.columns import Frame
from evenhand.terms.zones import civil_date, day_start

__all__ = ["Stretch", "WeekTime", "weeks_of_time"]

MULTIPLES = {"overtime": TIME_AND_A_HALF, "double": DOUBLE}


@dataclass(frozen=True)
class Stretch:
    """Paid time in one class at one rate, within one civil day where the person's rates change."""

    starts: int
    ends: int
    pay_class: str
    day: date
    rate: Rate | None

    @property
    def seconds(self) -> int:
        """Return how long it is [s]."""
        return self.ends - self.starts


@dataclass
class WeekTime:
    """One person's workweek; `days` are the civil days on which its shifts begin, with the rate of their first work.

    Its sums are worked out once, when they are first asked for, after the last stretch has been added.
    """

    person: str
    workweek: date
    stretches: list[Stretch] = field(default_factory=list)
    days: dict[date, Rate | None] = field(default_factory=dict)

    @cached_property
    def worked_s(self) -> int:
        """Return all seconds worked, each once."""
        return sum(stretch.seconds for stretch in self.stretches)

    @cached_property
    def straight_s(self) -> int:
        """Return the seconds that are neither overtime nor double time."""
        return sum(stretch.seconds for stretch in self.stretches if stretch.pay_class == "ordinary")

    @cached_property
    def beyond(self) -> dict[Fraction, int]:
        """Return the seconds owed each multiple of the regular rate."""
        seconds: Counter[str] = Counter()
        for stretch in self.stretches:
            seconds[stretch.pay_class] += stretch.seconds
        return {multiple: seconds[name] for name, multiple in MULTIPLES.items() if seconds[name]}

    @cached_property
    def by_rate(self) -> dict[Rate | None, int]:
        """Return the seconds worked under each rate, in order of first use."""
        seconds: defaultdict[Rate | None, int] = defaultdict(int)
        for stretch in self.stretches:
            seconds[stretch.rate] += stretch.seconds
        return dict(seconds)


def weeks_of_time(
    classed: Frame, owned: Frame, rates: Mapping[str, PersonRates], zones: Mapping[str, str]
) -> dict[tuple[str, date], WeekTime]:
    """Return everybody's workweeks from CLASSED; OWNED tells at which reader each span began."""
    readers: dict[int, str | None] = dict(owned.select("punch", "reader").iter_rows())
    weeks: dict[tuple[str, date], WeekTime] = {}
    begun: set[tuple[str, int]] = set()
    nobody = PersonRates(())
    for row in classed.sort("person", "starts").iter_rows(named=True):
        key = (row["person"], row["workweek"])
        week = weeks.get(key)
        if week is None:
            week = weeks[key] = WeekTime(*key)
        own, zone = rates.get(row["person"], nobody), zones[row["person"]]
        reader = readers.get(row["punch_in"]) or ""
        for starts, ends, day in _by_day(row["starts"], row["ends"], zone, own):
            rate = own.on(day, reader)
            week.stretches.append(Stretch(starts, ends, row["pay_class"], day, rate))
            if (row["person"], row["shift"]) not in begun:
                begun.add((row["person"], row["shift"]))
                week.days.setdefault(day, rate)
    return weeks


_day_start = lru_cache(maxsize=4096)(day_start)


def _by_day(starts: int, ends: int, zone: str, rates: PersonRates) -> Iterator[tuple[int, int, date]]:
    day = civil_date(zone, starts)
    for change in rates.changes:
        if change <= day:
            continue
        at = _day_start(zone, change)
        if at >= ends:
            break
        yield starts, at, day
        starts, day = at, change
    yield starts, ends, day
