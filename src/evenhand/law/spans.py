"""The columns that the rules hand on, and what binds the site they are computed for."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.zones import DAY_S, civil_date, offsets_of, week_starts

__all__ = ["Pieces", "Site", "Spans", "bind_site"]

Column = npt.NDArray[Any]


def _none() -> Column:
    return np.zeros(0, np.int64)


@dataclass(frozen=True)
class Pieces:
    """Paid time cut at workweeks, by person and time. From `overtime_from` on a piece is overtime.

    `act` is the punch the piece follows, `week` counts `Site.week_dates`; the rest are instants. Shape (n pieces,).
    """

    act: Column = field(default_factory=_none)
    week: Column = field(default_factory=_none)
    starts: Column = field(default_factory=_none)
    ends: Column = field(default_factory=_none)
    overtime_from: Column = field(default_factory=_none)


@dataclass(frozen=True)
class Spans:
    """Whole people's punches by person and time, and what the rules made of them.

    `person`, `at`, `mark`, `zone` are codes and instants of the acts that remain, shape (n acts,); `row` is each
    act's place among the rows handed in, and `into` each row's act. `reading`, `gap`, `asks` and `shift` come from
    pairing: which way each act went, what the time to the next act is, what it leaves open. `pay_at` is the
    instant that counts for pay.
    """

    person: Column
    at: Column
    mark: Column
    zone: Column
    row: Column = field(default_factory=_none)
    into: Column = field(default_factory=_none)
    reading: Column = field(default_factory=_none)
    gap: Column = field(default_factory=_none)
    asks: Column = field(default_factory=_none)
    shift: Column = field(default_factory=_none)
    pay_at: Column = field(default_factory=_none)
    recorded: Pieces = field(default_factory=Pieces)
    paid: Pieces = field(default_factory=Pieces)


@dataclass(frozen=True)
class Site:
    """What binds the people of one run: rules, policy, workweeks, zones.

    `week_bounds` holds one instant more than `week_dates`. Zone `z` has the offsets from `zone_first[z]` up to
    `zone_first[z + 1]` in `offset_starts` and `offsets` [s]. `large` says that passes are worth compiling.
    """

    rules: SiteRules
    policy: Policy
    week_dates: list[date]
    week_bounds: Column
    zone_names: tuple[str, ...]
    zone_first: Column
    offset_starts: Column
    offsets: Column
    large: bool


def bind_site(rules: SiteRules, policy: Policy, zones: tuple[str, ...], first: int, last: int, *, large: bool) -> Site:
    """Return the site with workweeks and offsets for punches from instant `first` to `last`."""
    # A day on each side: rounding may move pay over the line.
    dates, bounds = week_starts(
        rules.zone,
        rules.workweek_day,
        rules.workweek_s,
        civil_date(rules.zone, first - DAY_S),
        civil_date(rules.zone, last + DAY_S),
    )
    tables = [offsets_of(zone) for zone in zones]
    return Site(
        rules=rules,
        policy=policy,
        week_dates=dates,
        week_bounds=bounds,
        zone_names=zones,
        zone_first=np.cumsum([0, *(len(table.starts) for table in tables)]).astype(np.int64),
        offset_starts=np.concatenate([table.starts for table in tables]),
        offsets=np.concatenate([table.offsets for table in tables]),
        large=large,
    )
