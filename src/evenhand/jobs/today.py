"""What needs a person today: gather the facts of a pay period and rank what is wrong with them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from enum import StrEnum
from typing import Any

import polars as pl

from evenhand import checks, law, reconcile
from evenhand.jobs.closed import closed_periods
from evenhand.jobs.consents import hands_given
from evenhand.jobs.elsewhere import find_elsewhere
from evenhand.jobs.given_by_hand import given_by_hand, overtaken_attributions
from evenhand.jobs.hours import WorkedHours
from evenhand.jobs.leavers import clocked_of
from evenhand.jobs.period import when_worked_out
from evenhand.jobs.proposed import proposals_of_period
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.rounding import audit_between
from evenhand.jobs.rounds import prove_rounds
from evenhand.jobs.rounds_now import on_rounds_now
from evenhand.jobs.score_watch import watch_of
from evenhand.jobs.signed_hours import undone_signoffs
from evenhand.jobs.signed_period import unapproved
from evenhand.jobs.supervision import own_decisions, supervision_of, uncovered_of
from evenhand.records.standing import open_disputes, open_suggestions
from evenhand.store.handed_off import in_force
from evenhand.terms.cases import Case
from evenhand.terms.columns import Frame
from evenhand.terms.hours import BREACHES
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake, Unknown
from evenhand.terms.settings import Period
from evenhand.terms.wages import ROUNDING
from evenhand.terms.workplace import not_left

__all__ = [
    "FindingListed",
    "PeriodStanding",
    "StandingToday",
    "Today",
    "case_of",
    "cases_of",
    "find_standing",
    "find_today",
    "listed",
    "standing_of_period",
    "titles_of_checks",
]

AUDITED = timedelta(weeks=8)
SEEN = timedelta(weeks=10)
"""How far before a period it is looked who was seen where."""
ROUNDS = timedelta(weeks=4)


@dataclass(frozen=True)
class StandingToday:
    """Where roster, readers and punches disagree (DISCREPANCIES), and what mends it at the readers (READER_STEPS)."""

    discrepancies: Frame
    steps: Frame


class PeriodStanding(StrEnum):
    """Where a pay period stands on its way to payroll."""

    RUNNING = "running"
    AWAITED = "awaited"
    OPEN = "open"
    HANDED_OFF = "handed off"


@dataclass(frozen=True)
class FindingListed:
    """A finding with its key, the name of the person it is about, and the case it is of where cases are told."""

    key: str
    code: str
    subject: str
    says: str
    evidence: tuple[str, ...]
    stake: Stake
    next_step: str
    person: str | None
    name: str | None
    reader: str | None
    number: str | None
    day: date | None
    blocks_pay: bool
    details: dict[str, Any]
    case: str | None = None


def listed(findings: Iterable[Finding], names: Mapping[str, str], cases: Iterable[Case] = ()) -> list[FindingListed]:
    """Return findings as they are listed, with the key of the case each is of; `names` are people's, by identifier."""
    of_case = {finding.key: case.key for case in cases for finding in case.findings}
    return [
        FindingListed(
            key=one.key,
            name=names.get(one.person) if one.person else None,
            case=of_case.get(one.key),
            **vars(one),
        )
        for one in findings
    ]


def cases_of(today: Today, findings: Iterable[Finding]) -> dict[str, Case]:
    """Return the case of each of these findings, by the finding's key; those of no case are left out."""
    asked = {finding.key for finding in findings}
    return {finding.key: case for case in today.cases for finding in case.findings if finding.key in asked}


def case_of(today: Today, key: str) -> Case:
    """Return the case of that name, or the one that the finding of that name is of; Unknown where there is none."""
    for case in today.cases:
        if key == case.key or any(key == finding.key for finding in case.findings):
            return case
    raise Unknown(
        told('there is no open case or finding "{key}"; `evenhand today` lists them with their keys.', key=key)
    )


@dataclass(frozen=True)
class Today:
    """The findings, most at stake first, of the period payroll waits for, and the cases that each of them is of.

    `recorded` is all there is; who was seen where is looked for `since` an instant some weeks before the period.
    `unlisted` are those of `people` whom the roster lists no longer; `hands` (HELD_HANDS) are whose each reader lists.
    Where it has no charts, what scores say of hands and readers is not among them yet.
    """

    as_of: datetime
    zone: str
    day: date
    period: Period
    findings: tuple[Finding, ...]
    cases: tuple[Case, ...]
    hours: WorkedHours
    people: Frame
    readers: Frame
    enrolments: Frame
    recorded: Frame
    discrepancies: Frame
    reader_steps: Frame
    settled: Frame
    since: int
    ends: int
    hands: Frame
    unlisted: frozenset[str]
    has_charts: bool = True

    def is_here(self) -> pl.Expr:
        """Return which of the people (PEOPLE) have not left before the day, and are on the roster still."""
        return not_left(self.day) & ~pl.col("person").is_in(list(self.unlisted))

    @property
    def has_ended(self) -> bool:
        """Whether every workweek that begins in the period is over, at every site."""
        return self.as_of.timestamp() >= self.ends

    @property
    def blockers(self) -> list[Finding]:
        """Return the findings that keep the period from payroll."""
        return [finding for finding in self.findings if finding.blocks_pay]


def standing_of_period(reckoning: Reckoning, today: Today) -> PeriodStanding:
    """Return where the period that `today` is about stands on its way to payroll."""
    first, last = today.period.first, today.period.last
    if in_force(reckoning.snapshot.handoffs).filter(pl.col("first_day") == first, pl.col("last_day") == last).height:
        return PeriodStanding.HANDED_OFF
    if today.period == reckoning.period():
        return PeriodStanding.AWAITED
    return PeriodStanding.RUNNING if last >= reckoning.period().last else PeriodStanding.OPEN


def titles_of_checks() -> dict[str, tuple[str, str]]:
    """Return each check's title and why it matters, by its code."""
    return {check.code: (check.title, check.why) for check in checks.all_checks()}


def find_today(reckoning: Reckoning, period_day: date | None = None, *, charts: bool = True) -> Today:
    """Return what is wrong, for the period that holds `period_day` or the last one closed.

    Without `charts` nobody waits for what scores say; no finding of theirs keeps a period from payroll.
    """
    period = reckoning.period(period_day)
    return reckoning.part(("today", period, charts), lambda: _today(reckoning, period, charts=charts))


def find_standing(reckoning: Reckoning, period: Period) -> StandingToday:
    """Return where roster and readers disagree, by the punches since some weeks before the period."""
    of, day = reckoning.snapshot, reckoning.day

    def make() -> StandingToday:
        seen = _seen(reckoning, period)
        unattributed = reckoning.attribution.unattributed.filter(pl.col("at") >= _since(reckoning, period))
        found = reconcile.compare(of.people, of.readers, of.enrolments, seen, unattributed, as_of=day)
        no_hand = hands_given(reckoning).another_way
        found = reconcile.with_releases(found, of.people, of.enrolments, no_hand, as_of=day)
        steps = reconcile.reader_steps(
            of.people, of.readers, of.enrolments, found, as_of=day, another_way=no_hand.keys()
        )
        return StandingToday(found, steps)

    return reckoning.part(("standing", period), make)


def _seen(reckoning: Reckoning, period: Period) -> Frame:
    recorded, since = reckoning.snapshot.recorded, _since(reckoning, period)
    return reckoning.part(("seen", period), lambda: reconcile.count_seen(recorded, since))


def _since(reckoning: Reckoning, period: Period) -> int:
    """Return from when on it is looked who was seen where [s since 1970-01-01T00:00:00Z]."""
    begins = datetime.combine(period.first, datetime.min.time(), UTC)
    return int((min(begins, reckoning.as_of) - SEEN).timestamp())


def _make_parts(reckoning: Reckoning, period: Period) -> None:
    """Work out what Today rests on, as many things at once as there are that do not wait for each other."""

    def hours_and_pay() -> None:
        hours = reckoning.hours_between(period.first, period.last)
        reckoning.pay_between(period.first, period.last)
        proposals_of_period(reckoning, hours, period)

    def readers_and_standing() -> None:
        _seen(reckoning, period)
        logs = watch_of(reckoning).logs
        _ = logs.health, logs.refused_hands
        find_standing(reckoning, period)

    reckoning.beside(hours_and_pay, readers_and_standing, lambda: _rounding(reckoning, period))


def _today(reckoning: Reckoning, period: Period, *, charts: bool) -> Today:
    _make_parts(reckoning, period)
    of, hours = reckoning.snapshot, reckoning.hours_between(period.first, period.last)
    standing, paid = find_standing(reckoning, period), reckoning.pay_between(period.first, period.last)
    watch, given = watch_of(reckoning), hands_given(reckoning)
    facts = checks.Facts(
        as_of=int(reckoning.as_of.timestamp()),
        today=reckoning.day,
        zone=reckoning.zone,
        settings=replace(of.settings, sites=of.rules),
        period=period,
        people=of.people,
        readers=of.readers,
        enrolments=of.enrolments,
        recorded=of.recorded,
        seen=_seen(reckoning, period),
        attributed=hours.attributed,
        unattributed=hours.unattributed,
        consent=given.states,
        early_enrolments=given.early,
        discrepancies=standing.discrepancies,
        reader_steps=standing.steps,
        weeks=hours.weeks,
        questions=hours.questions,
        settled=dict(of.settled_now.select("finding", "made_at").iter_rows()),
        proof=reckoning.part("proof", lambda: prove_rounds(of, since=reckoning.day - ROUNDS)),
        assumed_sites=frozenset(set(of.rules) - set(of.settings.sites)),
        proposals=proposals_of_period(reckoning, hours, period),
        breaches=_breaches(reckoning, period),
        elsewhere=find_elsewhere(reckoning, period),
        pay_weeks=paid.weeks,
        pay_faults=paid.faults,
        rounding=_rounding(reckoning, period),
        health=watch.health if charts else watch.logs.health,
        refused_hands=watch.logs.refused_hands,
        watched=of.watched,
        removals=clocked_of(reckoning).removals,
        files=of.takes.select("take", "file"),
        gone_people=of.gone_people,
        clock_changes=of.clock_changes,
        numbers_told=of.numbers_told,
        written_zones=of.written_zones,
        take_spans=of.take_spans,
        gaps=_gaps(reckoning, period),
        closed=tuple(closed_periods(reckoning)),
        overtaken=overtaken_attributions(reckoning),
        undone=undone_signoffs(reckoning),
        unapproved=unapproved(reckoning, period),
        suggestions=open_suggestions(of.suggestions, of.suggestion_answers, reconcile.undone(of.corrections)),
        disputes=open_disputes(of.disputes, of.dispute_answers),
        supervision=supervision_of(reckoning),
        uncovered=uncovered_of(reckoning),
        own_decisions=own_decisions(reckoning),
        strays=reckoning.attribution.unattributed,
        handed_off=_handed_off(reckoning),
        given=given_by_hand(reckoning),
        number_doubts=of.numbers_held.in_doubt,
        on_rounds=on_rounds_now(reckoning),
        **({"alarms": watch.charts.alarms, "forecasts": watch.charts.forecasts} if charts else {}),
    )
    findings = checks.find_all(facts)
    return Today(
        as_of=reckoning.as_of,
        zone=reckoning.zone,
        day=reckoning.day,
        period=period,
        findings=tuple(findings),
        cases=checks.gather(findings, facts),
        hours=hours,
        people=of.people,
        readers=of.readers,
        enrolments=of.enrolments,
        recorded=of.recorded,
        discrepancies=standing.discrepancies,
        reader_steps=standing.steps,
        settled=of.settled_now,
        hands=clocked_of(reckoning).hands.filter("is_listed"),
        unlisted=frozenset(of.gone_people["person"].to_list()),
        since=_since(reckoning, period),
        ends=when_worked_out(period, reckoning.zone, of.rules.values()),
        has_charts=charts,
    )


def _handed_off(reckoning: Reckoning) -> tuple[tuple[date, date], ...]:
    """Return the days of the periods that payroll has, as far as the snapshot reaches."""
    told = in_force(reckoning.snapshot.handoffs).select("first_day", "last_day").unique().sort("first_day")
    return tuple(told.iter_rows())


def _gaps(reckoning: Reckoning, period: Period) -> Frame:
    """Return where the period is not whole (GAPS)."""
    of = reckoning.snapshot

    def make() -> Frame:
        known = reconcile.Attendance(
            recorded=of.recorded,
            attributed=reckoning.attribution.attributed,
            people=of.people,
            readers=of.readers,
            schedules=of.schedules,
            earnings=of.earnings,
            take_spans=of.take_spans,
            zones={site: rules.zone for site, rules in of.rules.items()},
        )
        return reconcile.find_gaps(known, period.first, period.last)

    return reckoning.part(("gaps", period), make)


def _rounding(reckoning: Reckoning, period: Period) -> Frame:
    """Audit the last weeks where some site's times are moved at all."""
    if not any(rule.rounding_s for rule in reckoning.snapshot.rules.values()):
        return ROUNDING.empty()
    return audit_between(reckoning, period.last - AUDITED + timedelta(days=1), period.last).rows


def _breaches(reckoning: Reckoning, period: Period) -> Frame:
    """Return where people do not keep to the working-time limits of their site's jurisdiction (BREACHES)."""
    of, week = reckoning.snapshot, timedelta(weeks=1)
    dated = {site: rules.on(period.first) for site, rules in of.rules.items()}
    limited = {site: rules for site, rules in dated.items() if law.limits_working_time(rules, of.own)}
    if not limited:
        return BREACHES.empty()
    around = reckoning.hours.classed.filter(pl.col("workweek").is_between(period.first - week, period.last + week))
    sites = of.people.select("person", pl.col("site").fill_null(""))
    found = []
    for site, rules in limited.items():
        people = sites.filter(pl.col("site") == site)["person"].implode()
        mine = around.filter(pl.col("person").is_in(people))
        found.append(law.find_breaches(mine, rules, of.own, (period.first, period.last)))
    return pl.concat([BREACHES.empty(), *found])
