"""What other settings or rules would do to everybody's hours and pay, by pay period, over the same workweeks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import Any

import polars as pl

from evenhand.jobs.effects import COMPARED, HoursOwed, PeriodChange, Worth
from evenhand.jobs.pay import is_in_money
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import undone_by
from evenhand.jobs.week_changes import WeekChange, weeks_changed
from evenhand.store.handed_off import in_force
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.parameters import OwnRules
from evenhand.terms.settings import Settings

__all__ = ["SettingsEffects", "compare_settings"]

KEY = ["person", "workweek"]
MONEY = {"straight_pay": "straight_pay", "overtime_premium": "overtime_premium", "premiums": "premium_pay",
         "other_pay": "other_pay", "total_pay": "pay"}  # fmt: skip


@dataclass(frozen=True)
class SettingsEffects:
    """What follows: a change for each pay period with all the weeks in it that change, open periods apart from closed.

    `weeks` are the person-weeks whose paid time or pay changes, `people` whoever has a week that changes in any way.
    Weeks that begin before `since` were not looked at. `undoes` tells whose sign-off would no longer hold.
    """

    open: tuple[PeriodChange, ...]
    closed: tuple[PeriodChange, ...]
    weeks: tuple[WeekChange, ...]
    people: int
    since: date
    undoes: tuple[str, ...]


def compare_settings(before: Reckoning, settings: Settings, own: Mapping[str, OwnRules]) -> SettingsEffects:
    """Return what follows for everybody's hours and pay where other settings and own rules hold.

    Raises Refusal where hours cannot be worked out by them.
    """
    if own == before.snapshot.own and _of_hours(settings) == _of_hours(before.snapshot.settings):
        return SettingsEffects((), (), (), 0, before.snapshot.first, ())
    now = replace(before.snapshot, settings=settings, own=own)
    after = before.following(now, before.as_of)
    changed = _changed(before, after)
    periods = tuple(_periods(before, after, changed))
    return SettingsEffects(
        open=tuple(one for one in periods if one.file is None),
        closed=tuple(one for one in periods if one.file is not None),
        weeks=tuple(weeks_changed(before, after)) if changed.height else (),
        people=changed["person"].n_unique(),
        since=before.snapshot.first,
        undoes=undone_by(before, after) if changed.height else (),
    )


def _of_hours(settings: Settings) -> tuple[object, ...]:
    """Return what hours and pay rest on."""
    return settings.sites, settings.policy, settings.zone, settings.period.anchor, settings.period.weeks


def _changed(before: Reckoning, after: Reckoning) -> Frame:
    """Return the person-weeks (KEY) of which anything changes, earliest first."""
    sides: list[list[Frame]] = []
    for of in (before, after):
        frames = [getattr(of.hours, name).select("person", *columns) for name, columns in COMPARED.items()]
        paid = _pay(of)
        sides.append([*frames, *([paid.select(*KEY, *MONEY)] if paid is not None else [])])
    found: list[Frame] = []
    for was, now in zip(*sides, strict=False):
        for one, other in ((was, now), (now, was)):
            found.append(one.join(other, on=one.columns, how="anti", nulls_equal=True).select(KEY))
    if len({len(side) for side in sides}) > 1:
        found.extend(side[-1].select(KEY) for side in sides if len(side) > len(COMPARED))
    return pl.concat(found).unique().sort("workweek", "person")


def _pay(of: Reckoning) -> Frame | None:
    weeks = of.hours.weeks["workweek"]
    first, last = weeks.min(), weeks.max()
    if not isinstance(first, date) or not isinstance(last, date) or not is_in_money(of.snapshot):
        return None
    return of.pay_between(first, last).weeks


def _periods(before: Reckoning, after: Reckoning, changed: Frame) -> Iterator[PeriodChange]:
    """Yield the change of each pay period, by the periods as they are now; the latest first."""
    files = in_force(before.snapshot.handoffs)
    weeks = changed["workweek"].unique().sort(descending=True).to_list()
    for first, some in groupby(weeks, key=lambda week: before.period(week).first):
        period, within = before.period(first), list(some)
        theirs = changed.filter(pl.col("workweek").is_in(within))
        handed = files.filter(pl.col("first_day") <= period.last, pl.col("last_day") >= period.first).tail(1)
        file: dict[str, Any] = handed.row(0, named=True) if handed.height else {}
        yield PeriodChange(
            person="",
            name=told("{count:# person|# people}", count=theirs["person"].n_unique()),
            first=period.first,
            last=period.last,
            first_week=within[-1],
            last_week=within[0],
            file=file.get("file"),
            handed_off_at=file.get("made_at"),
            before=_worth(before, theirs),
            after=_worth(after, theirs),
        )


def _worth(of: Reckoning, theirs: Frame) -> Worth:
    """Return what these person-weeks are worth together; pay is None where that of one of them is not known."""
    of.hours.refuse_failing()
    weeks = of.hours.weeks.join(theirs, on=KEY, how="semi")
    owed = of.hours.premiums.join(theirs, on=KEY, how="semi").group_by("kind").agg(pl.col("hours").sum()).sort("kind")
    paid = _pay(of)
    money: dict[str, Decimal | None] = dict.fromkeys(MONEY.values())
    if paid is not None:
        mine = paid.join(weeks, on=KEY, how="semi")
        worked = weeks.filter(pl.sum_horizontal("ordinary_s", "overtime_s", "double_s") > 0)
        # A week of open questions alone has no line of pay.
        if worked.join(mine, on=KEY, how="anti").is_empty() and not mine["total_pay"].has_nulls():
            for column, name in MONEY.items():
                money[name] = sum(mine[column].drop_nulls().to_list(), Decimal("0.00")).quantize(Decimal("0.01"))
    return Worth(
        ordinary_s=int(weeks["ordinary_s"].sum()),
        overtime_s=int(weeks["overtime_s"].sum()),
        double_s=int(weeks["double_s"].sum()),
        owed=tuple(HoursOwed(kind, amount) for kind, amount in owed.iter_rows()),
        questions=int(weeks["questions"].sum()),
        pay=money["pay"],
        straight_pay=money["straight_pay"],
        overtime_premium=money["overtime_premium"],
        premium_pay=money["premium_pay"],
        other_pay=money["other_pay"],
    )
