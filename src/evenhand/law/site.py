"""What binds the people of one run: rules, policy, lines of weeks and days, zones, schedules, numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property, lru_cache

import numpy as np

from evenhand.law.spans import Column
from evenhand.terms.parameters import Numbers, Parameter
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.zones import DAY_S, WEEK_S, Offsets, civil_date, offsets_of, week_starts

__all__ = ["HourlyRates", "PlannedShifts", "Site", "bind_site"]


@dataclass(frozen=True)
class PlannedShifts:
    """Scheduled shifts by person and start: person `p` has rows `first[p]` up to `first[p + 1]`."""

    first: Column
    starts: Column
    ends: Column


@dataclass(frozen=True)
class HourlyRates:
    """Hourly rates by person: person `p` has rows `first[p]` up to `first[p + 1]`.

    `since` and `until` are the first and last day on which a rate holds [days since 1970-01-01], `amount` is in
    1/10000 of the currency an hour, 0 where it is not known.
    """

    first: Column
    since: Column
    until: Column
    amount: Column


@dataclass(frozen=True)
class Site:
    """What binds the people of one run.

    `week_bounds` holds one instant more than `week_dates`. Zone `z` has the offsets from `zone_first[z]` up to
    `zone_first[z + 1]` in `offset_starts` and `offsets` [s]. `large` says that passes are worth compiling.
    `planned` holds schedules and `rates` hourly rates where there are any; `waived` (bit 1 the first meal, bit 2 the
    second) has one entry a person.
    """

    rules: SiteRules
    policy: Policy
    week_dates: tuple[date, ...]
    week_bounds: Column
    zone_names: tuple[str, ...]
    zone_first: Column
    offset_starts: Column
    offsets: Column
    large: bool
    numbers: Numbers
    planned: PlannedShifts | None = None
    rates: HourlyRates | None = None
    waived: Column | None = None

    @cached_property
    def day_dates(self) -> tuple[date, ...]:
        """Return the civil dates on which workdays begin: seven for each workweek."""
        return tuple(week + timedelta(days=day) for week in self.week_dates for day in range(7))

    @cached_property
    def day_numbers(self) -> Column:
        """Return the days of `day_dates`, counted from 1970-01-01."""
        return np.array([(day - date(1970, 1, 1)).days for day in self.day_dates], np.int64)

    def day_of(self, instants: Column) -> Column:
        """Return the workday in which each instant lies, as an index into `day_dates`."""
        day: Column = np.searchsorted(self.day_bounds, instants, side="right") - 1
        return day

    @cached_property
    def day_bounds(self) -> Column:
        """Return the instants at which workdays begin, at the workweek's time of day, and the end of the last.

        A workday lies in its workweek, also in one whose beginning was moved: what lies outside is cut off.
        """
        begins, _, _ = offsets_of(self.rules.zone).from_local(self.day_numbers * DAY_S + self.rules.workweek_s)
        within = np.clip(begins, np.repeat(self.week_bounds[:-1], 7), np.repeat(self.week_bounds[1:], 7))
        within[::7] = self.week_bounds[:-1]
        return np.append(within, self.week_bounds[-1])

    def offsets_in(self, zone: int) -> Offsets:
        """Return the offsets of one of the readers' zones."""
        return offsets_of(self.zone_names[zone])

    def parameter(self, rule: str, name: str) -> Parameter:
        """Return a parameter of a rule, such as us_federal.overtime: the workplace's own values where it has any."""
        return self.numbers[rule][name]

    def by_week(self, rule: str, name: str, unit: int = 1) -> Column:
        """Return a parameter's value in each workweek, times `unit`."""
        return _on_each(self.parameter(rule, name), self.week_dates, unit)

    def by_day(self, rule: str, name: str, unit: int = 1) -> Column:
        """Return a parameter's value on each workday, times `unit`."""
        return _on_each(self.parameter(rule, name), self.day_dates, unit)


@lru_cache(maxsize=256)
def _on_each(parameter: Parameter, days: tuple[date, ...], unit: int) -> Column:
    values = np.array([parameter.on(day) * unit for day in days], np.int64)
    values.flags.writeable = False  # every caller gets the same column
    return values


def bind_site(
    rules: SiteRules,
    policy: Policy,
    zones: tuple[str, ...],
    first: int,
    last: int,
    *,
    large: bool,
    numbers: Numbers,
    moved: Mapping[date, int] | None = None,
    planned: PlannedShifts | None = None,
    rates: HourlyRates | None = None,
    waived: Column | None = None,
) -> Site:
    """Return the site with workweeks and offsets for punches from instant `first` to `last`.

    `moved` are the beginnings of workweeks that lie elsewhere, by their date, where the workweek itself changes.
    """
    # A day on each side: rounding may move pay over the line. Where lines are moved, the week beyond is among them.
    margin = DAY_S + (WEEK_S if moved else 0)
    dates, bounds = week_starts(
        rules.zone,
        rules.workweek_day,
        rules.workweek_s,
        civil_date(rules.zone, first - margin),
        civil_date(rules.zone, last + margin),
    )
    bounds = np.array([(moved or {}).get(day, at) for day, at in zip(dates, bounds, strict=False)] + [bounds[-1]])
    tables = [offsets_of(zone) for zone in zones]
    return Site(
        rules=rules,
        policy=policy,
        week_dates=tuple(dates),
        week_bounds=bounds,
        zone_names=zones,
        zone_first=np.cumsum([0, *(len(table.starts) for table in tables)]).astype(np.int64),
        offset_starts=np.concatenate([table.starts for table in tables]),
        offsets=np.concatenate([table.offsets for table in tables]),
        large=large,
        numbers=numbers,
        planned=planned,
        rates=rates,
        waived=waived,
    )
