"""Hours of a snapshot: everybody's weeks, slices of them, one person's week and day with their reasons."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Any

import polars as pl

from evenhand import law
from evenhand.jobs.cores import on_all_cores
from evenhand.jobs.snapshot import EDGE_DAYS, Snapshot
from evenhand.terms.columns import Frame
from evenhand.terms.hours import (
    CLASSED,
    DIFFERENTIALS,
    FAILING_WEEKS,
    PREMIUMS,
    QUESTIONS,
    RECORDED_SPANS,
    STEPS,
    WEEKS,
)
from evenhand.terms.records import Refusal, Step
from evenhand.terms.settings import SiteRules
from evenhand.terms.sources import SCHEDULES
from evenhand.terms.tables import ATTRIBUTED, RECORDED
from evenhand.terms.weeks import week_holding
from evenhand.terms.zones import DAY_S, day_start, utc_start

__all__ = [
    "DayHours",
    "PersonWeek",
    "WorkedHours",
    "around",
    "compute_hours",
    "day_of",
    "week_of",
    "workweek_of",
]

OF_LAW = ("classed", "weeks", "recorded_spans", "questions", "steps", "premiums", "differentials")
IN_WEEKS = (*OF_LAW, "failing")


@dataclass(frozen=True)
class WorkedHours:
    """Hours with the punches they come from.

    Frames CLASSED, WEEKS, QUESTIONS, STEPS, ATTRIBUTED, RECORDED, PREMIUMS, DIFFERENTIALS, RECORDED_SPANS and
    FAILING_WEEKS, in this order. The punches reach `EDGE_DAYS` beyond the weeks on either side. A week that fails is
    in no other frame, so that nothing shows it as pay.
    """

    classed: Frame = field(default_factory=CLASSED.empty)
    weeks: Frame = field(default_factory=WEEKS.empty)
    questions: Frame = field(default_factory=QUESTIONS.empty)
    steps: Frame = field(default_factory=STEPS.empty)
    attributed: Frame = field(default_factory=ATTRIBUTED.empty)
    unattributed: Frame = field(default_factory=RECORDED.empty)
    premiums: Frame = field(default_factory=PREMIUMS.empty)
    differentials: Frame = field(default_factory=DIFFERENTIALS.empty)
    recorded_spans: Frame = field(default_factory=RECORDED_SPANS.empty)
    failing: Frame = field(default_factory=FAILING_WEEKS.empty)

    def between(self, first: date, last: date) -> WorkedHours:
        """Return the hours of the workweeks that begin from `first` to `last`, with the punches around them."""
        return replace(
            self.in_weeks(first, last),
            attributed=around(self.attributed, first, last),
            unattributed=around(self.unattributed, first, last),
        )

    def in_weeks(self, first: date, last: date) -> WorkedHours:
        """Return the hours of the workweeks that begin from `first` to `last`; the punches stay these."""
        inside = pl.col("workweek").is_between(first, last)
        return replace(self, **{name: getattr(self, name).filter(inside) for name in IN_WEEKS})

    def refuse_failing(self) -> None:
        """Raise Refusal where a week's recorded time and steps do not make what is paid."""
        if self.failing.height:
            raise Refusal(self.says_failing)

    @property
    def says_failing(self) -> str:
        """Return one sentence on the weeks that fail; there must be some."""
        return law.say_failing(self.failing)

    def with_unattributed(self, unattributed: Frame) -> WorkedHours:
        """Return the hours beside the unattributed punches (RECORDED)."""
        return replace(self, unattributed=unattributed)

    def without(self, people: Collection[str]) -> WorkedHours:
        """Return everybody's hours but those of `people`."""
        others = ~pl.col("person").is_in(list(people))
        return replace(self, **{name: getattr(self, name).filter(others) for name in IN_WEEKS})

    def of(self, people: Collection[str]) -> WorkedHours:
        """Return the hours of `people` alone, with their punches."""
        theirs = pl.col("person").is_in(list(people))
        return replace(self, **{name: getattr(self, name).filter(theirs) for name in (*IN_WEEKS, "attributed")})

    def joined(self, other: WorkedHours) -> WorkedHours:
        """Return these hours and the `other` people's or weeks'; the punches stay these."""
        return replace(self, **{name: pl.concat([getattr(self, name), getattr(other, name)]) for name in IN_WEEKS})


@dataclass(frozen=True)
class PersonWeek:
    """One person's workweek: who, under which rules, which days, and the hours with every step kept."""

    person: dict[str, Any]
    rules: SiteRules
    workweek: date
    days: tuple[date, ...]
    hours: WorkedHours

    @property
    def totals(self) -> dict[str, int]:
        """Return recorded, ordinary, overtime and double seconds; zeros where nothing was recorded."""
        names = ("recorded_s", "ordinary_s", "overtime_s", "double_s")
        rows = self.hours.weeks.select(names).rows(named=True)
        return {name: int(rows[0][name]) if rows else 0 for name in names}

    @property
    def in_two_workweeks(self) -> list[str]:
        """Return what of the week lies in another too, since the site's workweek moved, and what that would make of it.

        In words without a full stop, with the source.
        """
        moved = self.hours.steps.filter(pl.col("rule") == law.WORKWEEK_MOVED)
        return [f"{says} ({cites})" for says, cites in moved.select("says", "cites").iter_rows()]


@dataclass(frozen=True)
class DayHours:
    """One civil day of a person, cut out of its workweek; `starts` and `ends` are the day's instants.

    Where a workweek begins within the day, `week` is that one and `before` the one that ends, and so where the day lies
    in two workweeks, since the site's moved; the frames hold both.
    """

    day: date
    starts: int
    ends: int
    week: PersonWeek
    before: PersonWeek | None
    punches: Frame
    recorded: Frame
    classed: Frame
    steps: tuple[Step, ...]
    questions: Frame
    premiums: Frame
    differentials: Frame

    @property
    def weeks(self) -> tuple[PersonWeek, ...]:
        """Return the workweeks that share the day, in order of time."""
        return (self.week,) if self.before is None else (self.before, self.week)

    @property
    def attributed(self) -> Frame:
        """Return the person's punches (ATTRIBUTED) around the day's workweeks."""
        return _punches(*self.weeks)

    @property
    def paid_s(self) -> int:
        """Return the paid seconds that fall on this civil day."""
        return int((self.classed["ends"] - self.classed["starts"]).sum())

    @property
    def recorded_s(self) -> int:
        """Return the recorded seconds that fall on this civil day."""
        return int((self.recorded["ends"] - self.recorded["starts"]).sum())

    @property
    def steps_s(self) -> int:
        """Return the paid seconds of this day that rules added, less those they took."""
        return sum(step.seconds for step in self.steps)


def compute_hours(
    snapshot: Snapshot,
    attributed: Frame,
    rates: Frame,
    *,
    keep_steps: bool = False,
    parts: Collection[str] = law.PARTS_FOR_ALL,
) -> WorkedHours:
    """Return the hours of everybody in `attributed` (ATTRIBUTED), each under the rules of their site.

    `rates` are the hourly ones, each with its days; `parts` names the frames wanted beside the weeks; the others are
    left empty. People of a site without rules are left out, and found by a check.
    """
    if attributed.is_empty():
        return WorkedHours(attributed=attributed)
    schedules = _schedules(snapshot, attributed)
    found = [
        law.compute_hours(
            group,
            rules,
            snapshot.settings.policy,
            keep_steps=keep_steps,
            parts=parts,
            schedules=schedules,
            rates=rates,
            own=snapshot.own,
            each=on_all_cores,
        )
        for rules, group in _by_rules(snapshot, attributed)
    ]
    none = WorkedHours(attributed=attributed)
    if not found:
        return none
    frames = {name: pl.concat([one.frames[name] for one in found]) for name in OF_LAW if name in found[0].frames}
    failing = law.find_failing_weeks(frames["weeks"])
    if failing.height:
        keys = ["person", "workweek"]
        frames = {
            name: frame.join(failing, on=keys, how="anti", maintain_order="left") for name, frame in frames.items()
        }
    if "premiums" in frames:
        frames["premiums"] = law.decide_premiums(frames["premiums"], frames["weeks"], snapshot.premium_decisions)
    return replace(none, failing=failing, **frames)


def _by_rules(snapshot: Snapshot, attributed: Frame) -> list[tuple[SiteRules, Frame]]:
    """Part the punches by the rules that bind their people; two sites under the same rules stay together."""
    groups: dict[SiteRules, list[str]] = {}
    for site, rules in snapshot.rules.items():
        groups.setdefault(replace(rules, site=""), []).append(site)
    sites = snapshot.people.select("person", pl.col("site").fill_null(""))
    if len(groups) == 1 and not set(sites["site"].unique()) - set(*groups.values()):
        ((rules, names),) = groups.items()
        return [(replace(rules, site=_named(names)), attributed)]
    people = {rules: sites.filter(pl.col("site").is_in(names))["person"] for rules, names in groups.items()}
    return [
        (replace(rules, site=_named(names)), group)
        for rules, names in groups.items()
        if (group := attributed.filter(pl.col("person").is_in(people[rules].implode()))).height
    ]


def _named(names: Sequence[str]) -> str:
    """Return sites under the same rules as a refusal names them; '' where they are people without a site alone."""
    return ", ".join(name for name in names if name)


def _schedules(snapshot: Snapshot, attributed: Frame) -> Frame:
    """Return the schedules around the punches in `attributed`."""
    if snapshot.schedules.is_empty():
        return SCHEDULES.empty()
    since, until = int(attributed["at"].min()) - 2 * DAY_S, int(attributed["at"].max()) + 2 * DAY_S  # type: ignore[arg-type]
    return snapshot.schedules.filter(pl.col("ends_at") > since, pl.col("starts_at") < until)


def around(punches: Frame, first: date, last: date, edge: int = EDGE_DAYS) -> Frame:
    """Return the punches (with `at`) that the workweeks which begin from `first` to `last` are worked out from."""
    since = utc_start(first - timedelta(days=edge))
    until = utc_start(last + timedelta(days=7 + edge))
    return punches.filter(pl.col("at").is_between(since, until, closed="left"))


def workweek_of(rules: SiteRules, day: date) -> date:
    """Return the first civil day of the workweek that holds `day`, under the rules in force then."""
    return week_holding(day, rules.on(day).workweek_day)


def week_of(snapshot: Snapshot, theirs: WorkedHours, who: dict[str, Any], day: date) -> PersonWeek:
    """Return the workweek of `who` (a row of PEOPLE) that holds `day`, cut out of their hours."""
    rules = snapshot.rules_of(who["site"]).on(day)
    begins = workweek_of(rules, day)
    hours = theirs.between(begins, begins)
    hours.refuse_failing()
    days = tuple(begins + timedelta(days=offset) for offset in range(8 if rules.workweek_s else 7))
    return PersonWeek(who, rules, begins, days, hours)


def _punches(*weeks: PersonWeek) -> Frame:
    punches = pl.concat([week.hours.attributed for week in weeks])
    return punches.unique("punch", keep="first", maintain_order=True).sort("at", "punch")


def day_of(week: PersonWeek, day: date, before: PersonWeek | None = None) -> DayHours:
    """Return one civil day cut out of a workweek, with what the one `before` holds of it where that ends within it."""
    starts = day_start(week.rules.zone, day)
    ends = day_start(week.rules.zone, day + timedelta(days=1))
    hours = week.hours if before is None else week.hours.joined(before.hours)
    punches = hours.attributed if before is None else _punches(before, week)
    return DayHours(
        day=day,
        starts=starts,
        ends=ends,
        week=week,
        before=before,
        punches=punches.filter(pl.col("at").is_between(starts, ends, closed="left")),
        recorded=_clip(hours.recorded_spans, starts, ends),
        classed=_clip(hours.classed, starts, ends),
        steps=_steps_of(hours.steps, starts, ends),
        questions=hours.questions.filter(pl.col("at").is_between(starts, ends, closed="left")),
        premiums=hours.premiums.filter(pl.col("workday") == day),
        differentials=_clip(hours.differentials, starts, ends),
    )


def _step(row: Mapping[str, Any]) -> Step:
    punches = tuple(punch for punch in (row["punch_a"], row["punch_b"]) if punch is not None)
    names = ("rule", "starts", "ends", "seconds", "says", "cites", "from_class", "to_class")
    return Step(punches=punches, **{name: row[name] for name in names})


def _clip(spans: Frame, starts: int, ends: int) -> Frame:
    return (
        spans.filter((pl.col("starts") < ends) & (pl.col("ends") > starts))
        .with_columns(
            pl.max_horizontal("starts", pl.lit(starts)).alias("starts"),
            pl.min_horizontal("ends", pl.lit(ends)).alias("ends"),
        )
        .sort("starts")
    )


def _steps_of(steps: Frame, starts: int, ends: int) -> tuple[Step, ...]:
    """Return the steps (STEPS) of the day, by time. One that adds or takes time is as long as its span: cut with it."""
    instant = steps.filter(
        (pl.col("starts") == pl.col("ends")) & pl.col("starts").is_between(starts, ends, closed="left")
    )
    lasting = _clip(steps.filter(pl.col("starts") < pl.col("ends")), starts, ends).with_columns(
        (pl.col("seconds").sign() * (pl.col("ends") - pl.col("starts"))).alias("seconds")
    )
    in_order = pl.concat([instant, lasting]).sort("starts", maintain_order=True)
    return tuple(_step(row) for row in in_order.iter_rows(named=True))
