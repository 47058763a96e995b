"""Compute hours from stored punches: everybody's weeks, one person's week, one day with its reasons."""

from __future__ import annotations

from collections.abc import Collection
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

import polars as pl

from evenhand import reconcile
from evenhand.jobs.reckoning import reckon
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.terms.columns import Frame
from evenhand.terms.records import Refusal
from evenhand.terms.settings import SiteRules
from evenhand.terms.tables import CLASSED, DIFFERENTIALS, PREMIUMS, QUESTIONS, STEPS, WEEKS
from evenhand.terms.zones import DAY_S, day_start

__all__ = [
    "DayHours",
    "PersonWeek",
    "Sources",
    "WorkedHours",
    "day_hours",
    "day_of",
    "find_person",
    "hours_between",
    "names_of",
    "person_week",
    "punches_between",
    "rules_in_force",
]

# Punches before and after the weeks asked for decide how a stretch at their edge pairs.
# The 14 days of the 8 and 80 system may begin a workweek earlier.
EDGE_DAYS = 15


@dataclass(frozen=True)
class WorkedHours:
    """Hours with the punches they come from.

    Frames CLASSED, WEEKS, QUESTIONS, STEPS, OWNED, RECORDED, PREMIUMS and DIFFERENTIALS, in this order.
    """

    classed: Frame
    weeks: Frame
    questions: Frame
    steps: Frame
    owned: Frame
    unowned: Frame
    premiums: Frame = field(default_factory=PREMIUMS.empty)
    differentials: Frame = field(default_factory=DIFFERENTIALS.empty)


@dataclass(frozen=True)
class PersonWeek:
    """One person's workweek: who, under which rules, which days, and the hours with every step kept."""

    person: dict[str, object]
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


@dataclass(frozen=True)
class DayHours:
    """One civil day of a person, cut out of its workweek; `starts` and `ends` are the day's instants."""

    day: date
    starts: int
    ends: int
    week: PersonWeek
    punches: Frame
    classed: Frame
    steps: Frame
    questions: Frame
    premiums: Frame
    differentials: Frame

    @property
    def paid_s(self) -> int:
        """Return the paid seconds that fall on this civil day."""
        return int((self.classed["ends"] - self.classed["starts"]).sum())


@dataclass(frozen=True)
class Sources:
    """What hours are worked out from: frames RECORDED, PEOPLE, READERS and CORRECTIONS."""

    recorded: Frame
    roster: Frame
    readers: Frame
    corrections: Frame

    def around(self, first: date, last: date) -> Sources:
        """Return the same with the punches around the workweeks that begin from `first` to `last` alone."""
        since, until = _edges(first, last)
        return replace(self, recorded=self.recorded.filter(pl.col("at").is_between(since, until, closed="left")))


def hours_between(
    workspace: Workspace,
    first: date,
    last: date,
    *,
    keep_steps: bool = False,
    people: Collection[str] | None = None,
    read: Sources | None = None,
) -> WorkedHours:
    """Return the hours of all workweeks that begin from `first` to `last`, for everybody or for `people`.

    `read` are sources that somebody has read already, where they reach far enough; else they are read now.
    """
    sources = punches_between(workspace, first, last, people=people) if read is None else read.around(first, last)
    roster = sources.roster
    attribution = reconcile.attribute(sources.recorded, roster, sources.readers, sources.corrections)
    owned = attribution.owned
    if people is not None:
        owned = owned.filter(pl.col("person").is_in(list(people)))
    computed = [
        reckon(workspace, group, rules, roster, keep_steps=keep_steps)
        for rules, group in _by_rules(workspace, owned, roster)
    ]
    in_weeks = pl.col("workweek").is_between(first, last)
    return WorkedHours(
        classed=pl.concat([CLASSED.empty(), *(hours.classed for hours in computed)]).filter(in_weeks),
        weeks=pl.concat([WEEKS.empty(), *(hours.weeks for hours in computed)]).filter(in_weeks),
        questions=pl.concat([QUESTIONS.empty(), *(hours.questions for hours in computed)]).filter(in_weeks),
        steps=pl.concat([STEPS.empty(), *(hours.steps for hours in computed)]).filter(in_weeks),
        owned=owned,
        unowned=attribution.unowned,
        premiums=pl.concat([PREMIUMS.empty(), *(hours.premiums for hours in computed)]).filter(in_weeks),
        differentials=pl.concat([DIFFERENTIALS.empty(), *(hours.differentials for hours in computed)]).filter(in_weeks),
    )


def punches_between(workspace: Workspace, first: date, last: date, *, people: Collection[str] | None = None) -> Sources:
    """Return what the hours of the workweeks that begin from `first` to `last` are worked out from.

    For `people` the punches are those that can be theirs: under their numbers, or corrected in their favour.
    """
    since, until = _edges(first, last)
    with workspace.store.reading() as conn:
        roster, corrections = frames.people(conn), frames.corrections(conn)
        numbers, punches = None, []
        if people is not None:
            theirs = pl.col("person").is_in(list(people))
            numbers = roster.filter(theirs)["number"].drop_nulls().to_list()
            punches = corrections.filter(theirs, pl.col("punch") >= 0)["punch"].to_list()
        recorded = frames.recorded(conn, since=since, until=until, numbers=numbers, punches=punches)
        return Sources(recorded, roster, frames.readers(conn), corrections)


def person_week(workspace: Workspace, person: str, day: date) -> PersonWeek:
    """Return the workweek of `person` that holds `day`; raises Refusal where nobody answers to `person`."""
    who = find_person(workspace, person)
    rules = workspace.site_rules(str(who["site"] or "")).on(day)
    begins = day - timedelta(days=(day.weekday() - rules.workweek_day) % 7)
    hours = hours_between(workspace, begins, begins, keep_steps=True, people=[str(who["person"])])
    days = tuple(begins + timedelta(days=offset) for offset in range(8 if rules.workweek_s else 7))
    return PersonWeek(who, rules, begins, days, hours)


def day_hours(workspace: Workspace, person: str, day: date) -> DayHours:
    """Return one civil day of `person`, with the punches, spans and steps that touch it."""
    return day_of(person_week(workspace, person, day), day)


def day_of(week: PersonWeek, day: date) -> DayHours:
    """Return one civil day cut out of a workweek."""
    starts = day_start(week.rules.zone, day)
    ends = day_start(week.rules.zone, day + timedelta(days=1))
    hours = week.hours
    return DayHours(
        day=day,
        starts=starts,
        ends=ends,
        week=week,
        punches=hours.owned.filter(pl.col("at").is_between(starts, ends, closed="left")),
        classed=_clip(hours.classed, starts, ends),
        steps=_clip_steps(hours.steps, starts, ends),
        questions=hours.questions.filter(pl.col("at").is_between(starts, ends, closed="left")),
        premiums=hours.premiums.filter(pl.col("workday") == day),
        differentials=_clip(hours.differentials, starts, ends),
    )


def find_person(workspace: Workspace, text: str) -> dict[str, object]:
    """Return the roster's row for an identifier, a number, or a name that only one person has."""
    with workspace.store.reading() as conn:
        roster = frames.people(conn)
    for column in ("person", "number"):
        rows = roster.filter(pl.col(column) == text)
        if rows.height == 1:
            return rows.row(0, named=True)
    named = roster.filter(pl.col("name").str.to_lowercase().str.contains(text.strip().lower(), literal=True))
    if named.height == 1:
        return named.row(0, named=True)
    if named.height:
        several = ", ".join(f"{row['person']} ({row['name']})" for row in named.head(5).iter_rows(named=True))
        raise Refusal(f'"{text}" names {named.height} people: {several}; give the identifier of the one you mean.')
    raise Refusal(f'nobody on the roster answers to "{text}"; give an identifier, a number or a part of a name.')


def names_of(workspace: Workspace) -> dict[str, str]:
    """Return everybody's name by identifier."""
    with workspace.store.reading() as conn:
        return dict(frames.people(conn).select("person", "name").iter_rows())


def rules_in_force(workspace: Workspace, roster: Frame) -> dict[str, SiteRules]:
    """Return the rules of each site on the roster that has any; a site without a zone has none."""
    rules = {}
    for site in roster["site"].fill_null("").unique().sort():
        with suppress(Refusal):
            rules[site] = workspace.site_rules(site)
    return rules


def _by_rules(workspace: Workspace, owned: Frame, roster: Frame) -> list[tuple[SiteRules, Frame]]:
    """Part the punches by the rules that bind their people; two sites under the same rules stay together.

    People of a site without rules are left out here, and found by a check.
    """
    sites = roster.select("person", pl.col("site").fill_null(""))
    groups: dict[SiteRules, list[str]] = {}
    for site, rules in rules_in_force(workspace, roster).items():
        groups.setdefault(replace(rules, site=""), []).append(site)
    placed = owned.join(sites, on="person", how="left", maintain_order="left")
    return [
        (rules, group.drop("site"))
        for rules, names in groups.items()
        if (group := placed.filter(pl.col("site").is_in(names))).height
    ]


def _clip(spans: Frame, starts: int, ends: int) -> Frame:
    return (
        spans.filter((pl.col("starts") < ends) & (pl.col("ends") > starts))
        .with_columns(
            pl.max_horizontal("starts", pl.lit(starts)).alias("starts"),
            pl.min_horizontal("ends", pl.lit(ends)).alias("ends"),
        )
        .sort("starts")
    )


def _clip_steps(steps: Frame, starts: int, ends: int) -> Frame:
    """Cut steps to the day. A step that adds or takes time is as long as its span, so it is cut with it."""
    instant = steps.filter(
        (pl.col("starts") == pl.col("ends")) & pl.col("starts").is_between(starts, ends, closed="left")
    )
    lasting = _clip(steps.filter(pl.col("starts") < pl.col("ends")), starts, ends).with_columns(
        (pl.col("seconds").sign() * (pl.col("ends") - pl.col("starts"))).alias("seconds")
    )
    return pl.concat([instant, lasting]).sort("starts", maintain_order=True)


def _edges(first: date, last: date) -> tuple[int, int]:
    return _utc(first - timedelta(days=EDGE_DAYS)), _utc(last + timedelta(days=7 + EDGE_DAYS))


def _utc(day: date) -> int:
    return (day - date(1970, 1, 1)).days * DAY_S
