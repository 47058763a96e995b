"""What needs a person today: gather the facts of a pay period and rank what is wrong with them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import polars as pl

from evenhand import checks, reconcile
from evenhand.jobs.hours import Sources, WorkedHours, hours_between, rules_in_force
from evenhand.jobs.pay import pay_between
from evenhand.jobs.period import period_of, period_waited_for, workplace_zone
from evenhand.jobs.reckoning import HABIT, breaches_of, proposals_for
from evenhand.jobs.rounding import audit_between
from evenhand.jobs.rounds import prove_rounds
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.terms.columns import Frame
from evenhand.terms.records import Finding, Refusal
from evenhand.terms.settings import Period, SiteRules
from evenhand.terms.tables import PROPOSALS
from evenhand.terms.wages import ROUNDING

__all__ = ["Today", "look", "settle"]

# Long enough for a reader's usual traffic, for a first punch to prove an enrolment, and for people's habits.
HISTORY = timedelta(weeks=10)
AUDITED = timedelta(weeks=8)
ROUNDS = timedelta(weeks=4)


@dataclass(frozen=True)
class Today:
    """The findings, most at stake first, of the period payroll waits for."""

    as_of: datetime
    zone: str
    period: Period
    findings: tuple[Finding, ...]
    hours: WorkedHours
    people: Frame
    readers: Frame
    enrolments: Frame
    recorded: Frame
    discrepancies: Frame
    reader_steps: Frame
    settled: Frame

    @property
    def day(self) -> date:
        """Return the civil day of `as_of` at the workplace."""
        return self.as_of.astimezone(ZoneInfo(self.zone)).date()

    @property
    def blockers(self) -> list[Finding]:
        """Return the findings that keep the period from payroll."""
        return [finding for finding in self.findings if finding.blocks_pay]


def look(workspace: Workspace, as_of: datetime, period_day: date | None = None) -> Today:
    """Return what is wrong as of an instant, for the period that holds `period_day` or the last one closed."""
    zone = workplace_zone(workspace)
    today = as_of.astimezone(ZoneInfo(zone)).date()
    if period_day is None:
        period = period_waited_for(workspace, as_of)
    else:
        period = period_of(workspace.settings.period, zone, period_day)
    now = int(as_of.timestamp())
    with workspace.store.reading() as conn:
        people = frames.people(conn)
        readers = frames.readers(conn)
        enrolments = frames.enrolments(conn)
        consent = frames.consent(conn)
        settled = frames.settled(conn)
        corrections = frames.corrections(conn)
        since = min(datetime.combine(period.first, datetime.min.time(), UTC), as_of) - HISTORY
        recorded = frames.recorded(conn, since=int(since.timestamp()), until=None)
    sources = Sources(recorded, people, readers, corrections)
    hours = hours_between(workspace, period.first, period.last, read=sources)
    discrepancies = reconcile.compare(people, readers, enrolments, recorded, as_of=today, corrections=corrections)
    steps = reconcile.reader_steps(people, readers, enrolments, discrepancies, as_of=today)
    rules = rules_in_force(workspace, people)
    paid = pay_between(workspace, period.first, period.last, hours=hours)
    facts = checks.Facts(
        as_of=now,
        today=today,
        settings=replace(workspace.settings, sites=rules),
        period=period,
        people=people,
        readers=readers,
        enrolments=enrolments,
        recorded=recorded,
        owned=hours.owned,
        unowned=hours.unowned,
        consent=consent,
        discrepancies=discrepancies,
        reader_steps=steps,
        classed=hours.classed,
        weeks=hours.weeks,
        questions=hours.questions,
        steps=hours.steps,
        settled=frozenset(settled["finding"].to_list()),
        proof=prove_rounds(workspace, since=today - ROUNDS),
        assumed_sites=frozenset(set(rules) - set(workspace.settings.sites)),
        proposals=_proposals(workspace, hours, period, sources),
        breaches=breaches_of(workspace, hours.classed, people, rules, period.first),
        pay_weeks=paid.weeks,
        pay_faults=paid.faults,
        rounding=_rounding(workspace, rules, period),
    )
    return Today(
        as_of=as_of,
        zone=zone,
        period=period,
        findings=tuple(checks.find_all(facts)),
        hours=hours,
        people=people,
        readers=readers,
        enrolments=enrolments,
        recorded=recorded,
        discrepancies=discrepancies,
        reader_steps=steps,
        settled=settled,
    )


def _rounding(workspace: Workspace, rules: dict[str, SiteRules], period: Period) -> Frame:
    """Audit the last weeks where some site's times are moved at all."""
    if not any(rule.rounding_s for rule in rules.values()):
        return ROUNDING.empty()
    return audit_between(workspace, period.last - AUDITED + timedelta(days=1), period.last).rows


def _proposals(workspace: Workspace, hours: WorkedHours, period: Period, sources: Sources) -> Frame:
    """Return when the period's missing punches may have been, from some weeks of the same people's hours."""
    missing = hours.questions.filter(pl.col("kind").is_in(["missing_in", "missing_out"]))
    if missing.is_empty():
        return PROPOSALS.empty()
    people = missing["person"].unique().to_list()
    habits = hours_between(workspace, period.first - HABIT, period.last, people=people, read=sources)
    asked = habits.questions.filter(pl.col("punch").is_in(missing["punch"].implode()))
    return proposals_for(workspace, asked, habits.classed, habits.owned, workplace_zone(workspace))


def settle(workspace: Workspace, key: str, *, author: str, reason: str, as_of: datetime) -> Finding:
    """Put a finding aside for good, with who decided and why; raises Refusal where no finding has that key."""
    if not author.strip() or not reason.strip():
        raise Refusal("a finding is settled by somebody and for a reason; give both.")
    found = [finding for finding in look(workspace, as_of).findings if finding.key == key]
    if not found:
        raise Refusal(f'there is no open finding "{key}"; `evenhand today` lists them with their keys.')
    with workspace.store.writing() as conn:
        made_at = int(as_of.timestamp())
        decisions.add_settled(conn, finding=key, author=author.strip(), reason=reason.strip(), made_at=made_at)
    return found[0]
