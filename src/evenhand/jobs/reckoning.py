"""Everything worked out from one snapshot, each part once and only when somebody asks.

Whose punch is whose, hours, pay, where roster and readers disagree, findings: pages, commands and previews take slices
of the same object. A reckoning that follows another keeps what the change between their snapshots does not touch;
after a correction only the people it touches are worked out again.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Mapping, Sequence
from datetime import date, datetime, timedelta
from functools import cached_property
from threading import Lock, RLock
from typing import Any, TypeVar, cast
from zoneinfo import ZoneInfo

import polars as pl

from evenhand import pay, reconcile
from evenhand.jobs.cores import on_all_cores
from evenhand.jobs.following import (
    ATTRIBUTION,
    Since,
    attribution_after,
    changed_between,
    hours_after,
    parts_kept,
    since,
    still_due,
    touched_people,
)
from evenhand.jobs.hours import (
    DayHours,
    PersonWeek,
    WorkedHours,
    compute_hours,
    day_of,
    week_of,
)
from evenhand.jobs.pay import EverybodysPay, PersonPay, compute_pay, day_pay, is_in_money, moved_days, total_pay
from evenhand.jobs.period import last_closed, period_of
from evenhand.jobs.snapshot import Snapshot, take_snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.pay import Pay
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Period
from evenhand.terms.wages import PAY_FAULTS, PAY_ITEMS, PAY_WEEKS

__all__ = ["KEPT_HISTORY", "Reckoning", "reach", "reckon_day", "reckon_period", "reckon_weeks", "renewed"]

Part = TypeVar("Part")

MANY = 300_000
"""Punches of which parts are worth threads: with fewer the interpreter does most of the work, one thread at a time."""

KEPT_HISTORY = timedelta(weeks=26)
"""How far before a period its findings look back: over half a year of scores."""


class Reckoning:
    """What follows from a snapshot as of an instant; parts may be asked for from several threads at once."""

    def __init__(self, snapshot: Snapshot, as_of: datetime) -> None:
        self.snapshot, self.as_of = snapshot, as_of
        self._parts: dict[Hashable, Any] = {}
        self._locks: dict[Hashable, RLock] = {}
        self._lock = Lock()
        self._since: dict[Hashable, Since] = {}

    def following(self, snapshot: Snapshot, as_of: datetime) -> Reckoning:
        """Return the reckoning of a later snapshot; the parts that nothing new touches are these."""
        if snapshot is self.snapshot and as_of == self.as_of:
            return self
        after = Reckoning(snapshot, as_of)
        changed = changed_between(self.snapshot, snapshot)
        changed |= {"as_of"} if after.as_of != self.as_of else set()
        changed |= {"day"} if after.day != self.day else set()
        parts, before = self._made()
        after._parts = parts_kept(parts, changed)
        if "corrections" not in changed:
            after._since = still_due(before, changed)
        elif changed & ATTRIBUTION == {"corrections"} and ("attribution" in parts or "attribution" in before):
            attributed = self.attribution.attributed
            after._since = still_due(since(*self._made(), self.snapshot, snapshot, attributed), changed)
        return after

    def with_corrections(self, rows: Sequence[Mapping[str, Any]]) -> Reckoning:
        """Return what would follow if corrections (CORRECTIONS without their numbers) were made."""
        return self.following(self.snapshot.with_corrections(rows), self.as_of)

    def _made(self) -> tuple[dict[Hashable, Any], dict[Hashable, Since]]:
        """Return the parts made so far, and those that are not yet brought up to date; others may be making some."""
        with self._lock:
            return dict(self._parts), dict(self._since)

    def part(self, key: Hashable, make: Callable[[], Part]) -> Part:
        """Return the part of this name, made by whoever asks first; the others wait for it."""
        with self._lock:
            if key in self._parts:
                return cast("Part", self._parts[key])
            lock = self._locks.setdefault(key, RLock())
        with lock:
            if key not in self._parts:
                made = make()
                with self._lock:
                    self._parts[key] = made
                    self._since.pop(key, None)
            return cast("Part", self._parts[key])

    def beside(self, *asks: Callable[[], object]) -> None:
        """Ask for parts that do not rest on one another beside each other; what they share is made once."""
        if self.snapshot.recorded.height < MANY:
            for ask in asks:
                ask()
            return
        on_all_cores(lambda ask: ask(), asks)

    @property
    def zone(self) -> str:
        """Return the zone in which the workplace as a whole counts its days."""
        return self.snapshot.zone

    @cached_property
    def day(self) -> date:
        """Return the civil day of `as_of` at the workplace."""
        return self.as_of.astimezone(ZoneInfo(self.zone)).date()

    def period(self, day: date | None = None) -> Period:
        """Return the pay period that holds `day`, or the one payroll waits for."""
        pay_period = self.snapshot.settings.period
        return last_closed(pay_period, self.zone, self.as_of) if day is None else period_of(pay_period, self.zone, day)

    @property
    def holders(self) -> pl.Series:
        """Return who held the number of each punch of the snapshot, corrections aside (`reconcile.holders`)."""
        of = self.snapshot
        policy = of.settings.policy
        return self.part("holders", lambda: reconcile.holders(of.recorded, of.holding, of.readers, policy))

    @property
    def attribution(self) -> reconcile.Attribution:
        """Return whose each accepted punch of the snapshot is."""
        return self.part("attribution", self._attributed)

    def _attributed(self) -> reconcile.Attribution:
        of = self.snapshot
        before = self._since.get("attribution")
        if before is not None:
            return attribution_after(before, of, self.holders)
        return reconcile.attribute(of.recorded, of.holding, of.readers, of.corrections, held=self.holders)

    @property
    def hourly_rates(self) -> Frame:
        """Return everybody's hourly rates, for laws that ask for the rate of a day."""
        of = self.snapshot
        return self.part("hourly rates", lambda: pay.hourly_rates(of.rates, of.people))

    @property
    def hours(self) -> WorkedHours:
        """Return everybody's hours in all workweeks of the snapshot, without steps."""
        return self.part("hours", self._hours)

    def _hours(self) -> WorkedHours:
        attribution = self.attribution
        before = self._since.get("hours")
        if before is not None:
            hours = hours_after(before, self.snapshot, attribution.attributed, self.hourly_rates)
        else:
            hours = compute_hours(self.snapshot, attribution.attributed, self.hourly_rates)
        return hours.with_unattributed(attribution.unattributed)

    def hours_between(self, first: date, last: date) -> WorkedHours:
        """Return everybody's hours in the workweeks that begin from `first` to `last`."""
        return self.part(("hours between", first, last), lambda: self.hours.between(first, last))

    def weeks_between(self, first: date, last: date) -> WorkedHours:
        """Return the same with the weeks' totals alone, which take less than half the work of all frames."""

        def make() -> WorkedHours:
            attributed, rates = self.attribution.attributed, self.hourly_rates
            return compute_hours(self.snapshot, attributed, rates, parts=()).between(first, last)

        return self.part(("weeks between", first, last), make)

    def person_hours(self, person: str) -> WorkedHours:
        """Return one person's hours in all workweeks of the snapshot, with their steps."""

        def make() -> WorkedHours:
            theirs = self.attribution.attributed.filter(pl.col("person") == person).sort("at", "punch")
            return compute_hours(self.snapshot, theirs, self.hourly_rates, keep_steps=True)

        return self.part(("person hours", person), make)

    def person_week(self, person: str, day: date) -> PersonWeek:
        """Return the workweek of `person` that holds `day`, with its steps; Refusal where nobody is `person`."""
        who = self.snapshot.find_person(person)
        key = ("person week", who["person"], day)
        return self.part(key, lambda: week_of(self.snapshot, self.person_hours(who["person"]), who, day))

    def person_day(self, person: str, day: date) -> DayHours:
        """Return one civil day of `person`; where two workweeks hold of it, what both do.

        So it is where a workweek begins within the day, and where the day lies in the last workweek before the site's
        moved and in the first one after (29 CFR 778.301).
        """
        week = self.person_week(person, day)
        before = self.person_week(person, week.workweek - timedelta(days=1))
        begins_within = day == week.workweek and week.rules.workweek_s
        ends_later = day in before.days[:7]
        return day_of(week, day, before if begins_within or ends_later else None)

    def pay_between(self, first: date, last: date) -> EverybodysPay:
        """Return everybody's pay of the workweeks that begin from `first` to `last`; none without money on file."""

        def make(people: Collection[str] | None) -> EverybodysPay:
            if not is_in_money(self.snapshot):
                return EverybodysPay(PAY_WEEKS.empty(), PAY_ITEMS.empty(), PAY_ITEMS.empty(), PAY_FAULTS.empty())
            earned = pay.earliest_earned(self.snapshot.earnings, (first, last)) - timedelta(days=6)
            hours = self.hours if people is None else self.hours.of(people)
            since = min(first, earned) - timedelta(days=self.snapshot.edge_days)
            theirs = hours.in_weeks(since, last)
            return EverybodysPay.of(compute_pay(self.snapshot, theirs, (first, last), people))

        return self._by_person(("pay between", first, last), make, EverybodysPay.replaced)

    def moved_days(self, first: date, last: date) -> Frame:
        """Return what rounding and grace gave and took day by day (`pay.moved_days`), at sites where they do."""
        hours = self.hours

        def make(people: Collection[str] | None) -> Frame:
            theirs = hours if people is None else hours.of(people)
            return moved_days(self.snapshot, theirs, self.hourly_rates, (first, last))

        return self.frame_by_person(("moved days", first, last), make)

    def frame_by_person(self, key: Hashable, make: Callable[[Collection[str] | None], Frame]) -> Frame:
        """Return a part that is a frame with a column `person`, made of everybody or, after a correction, of few.

        `make` is asked for the rows of some people, or of all where it is given None; a person's rows rest on nobody
        else's.
        """

        def replaced(was: Frame, people: Collection[str], again: Frame) -> Frame:
            return pl.concat([was.filter(~pl.col("person").is_in(list(people))), again])

        return self._by_person(key, make, replaced)

    def _by_person(
        self,
        key: Hashable,
        make: Callable[[Collection[str] | None], Part],
        replaced: Callable[[Part, Collection[str], Part], Part],
    ) -> Part:
        """Return a part made of everybody, or as it was with whom a correction touches made again and replaced."""

        def whole() -> Part:
            before = self._since.get(key)
            if before is None:
                return make(None)
            people = touched_people(before, self.attribution.attributed)
            return replaced(before.part, people, make(people))

        return self.part(key, whole)

    def person_pay(self, person: str, day: date) -> PersonPay:
        """Return the workweek of `person` that holds `day`, with its pay."""
        return self._week_pay(self.person_week(person, day))

    def _week_pay(self, week: PersonWeek) -> PersonPay:
        person, first = str(week.person["person"]), week.workweek

        def make() -> PersonPay:
            paid = self.pay_of(person, first, first)
            return PersonPay(week, paid, total_pay(self.snapshot, person, paid, (first, first)))

        return self.part(("person pay", person, first), make)

    def day_pay(self, day: DayHours) -> list[tuple[date, list[pay.DayPart]]]:
        """Return what a person's day adds to the pay of each workweek that it belongs to, by the week's first day.

        A week of which the day holds no time adds nothing. Nothing is returned where a week's pay is not known, since
        part of a day's worth would be read as all of it.
        """
        worth = []
        for week in day.weeks:
            mine = day_of(week, day.day)
            if mine.classed.height:
                parts = day_pay(self._week_pay(week), mine)
                if parts is None:
                    return []
                worth.append((week.workweek, parts))
        return worth

    def pay_of(self, person: str, first: date, last: date) -> Pay:
        """Return one person's pay of the workweeks that begin from `first` to `last`."""
        return compute_pay(self.snapshot, self.person_hours(person), (first, last), [person])


def reckon_weeks(workspace: Workspace, as_of: datetime, first: date, last: date | None = None) -> Reckoning:
    """Return the reckoning of the workweeks that begin from `first` on, up to `last` where it is given."""
    return Reckoning(take_snapshot(workspace, first, last), as_of)


def reckon_day(workspace: Workspace, as_of: datetime, day: date) -> Reckoning:
    """Return the reckoning of the workweeks that may hold `day`, wherever they begin, also those that end within it."""
    return reckon_weeks(workspace, as_of, day - timedelta(days=14), day)


def reckon_period(
    workspace: Workspace, as_of: datetime, period_day: date | None = None, *, history: timedelta = KEPT_HISTORY
) -> Reckoning:
    """Return the reckoning of the pay period that holds `period_day`, or of the last one closed, and of all since.

    It reaches `history` back before the period.
    """
    return Reckoning(take_snapshot(workspace, reach(workspace, as_of, period_day) - history), as_of)


def renewed(workspace: Workspace, reckoning: Reckoning) -> Reckoning:
    """Return the same reckoning of the store as it is now."""
    of = reckoning.snapshot
    return reckoning.following(take_snapshot(workspace, of.first, of.last, like=of), reckoning.as_of)


def reach(workspace: Workspace, as_of: datetime, period_day: date | None = None) -> date:
    """Return a day no later than the first of the period meant, whatever zone places it."""
    days = [as_of.date(), *([period_day] if period_day else [])]
    return min(days) - timedelta(days=1, weeks=2 * workspace.settings.period.weeks)
