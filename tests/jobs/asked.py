"""Ask a workspace as its doors do: take a reckoning of the weeks meant, and call one job with it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

from evenhand.jobs import correct as corrections
from evenhand.jobs import (
    handoff,
    numbers,
    rounding,
    settling,
    statement,
    stray_decisions,
    stray_proposals,
    strays,
    today,
)
from evenhand.jobs.hours import DayHours, PersonWeek, WorkedHours
from evenhand.jobs.pay import PersonPay
from evenhand.jobs.reckoning import Reckoning, reckon_day, reckon_period, reckon_weeks
from evenhand.jobs.workspace import Workspace
from evenhand.pay import Pay
from evenhand.terms.columns import Frame

ANY = datetime(2026, 11, 9, 15, tzinfo=UTC)


def hours_between(workspace: Workspace, first: date, last: date) -> WorkedHours:
    return reckon_weeks(workspace, ANY, first, last).hours_between(first, last)


def person_hours(workspace: Workspace, person: str, first: date, last: date) -> WorkedHours:
    return reckon_weeks(workspace, ANY, first, last).person_hours(person).between(first, last)


def person_week(workspace: Workspace, person: str, day: date) -> PersonWeek:
    return reckon_day(workspace, ANY, day).person_week(person, day)


def day_hours(workspace: Workspace, person: str, day: date) -> DayHours:
    return reckon_day(workspace, ANY, day).person_day(person, day)


def person_pay(workspace: Workspace, person: str, day: date) -> PersonPay:
    return reckon_day(workspace, ANY, day).person_pay(person, day)


def pay_between(workspace: Workspace, first: date, last: date, *, people: Collection[str] = ()) -> Pay:
    reckoning = reckon_weeks(workspace, ANY, first, last)
    return reckoning.pay_of(*people, first, last) if people else reckoning.pay_between(first, last)


def find_today(workspace: Workspace, as_of: datetime, day: date | None = None) -> today.Today:
    return today.find_today(reckon_period(workspace, as_of, day), day)


def settle(workspace: Workspace, *keys: str, as_of: datetime, **said: str) -> Any:
    return settling.settle(workspace, reckon_period(workspace, as_of), keys, as_of=as_of, **said)


def _around(workspace: Workspace, asked: corrections.CorrectionRequest, as_of: datetime) -> Reckoning:
    at = asked.at.isoformat() if asked.at else None
    return corrections.reckon_around(workspace, at=at, punch=asked.punch, as_of=as_of)


def preview_correction(
    workspace: Workspace, asked: corrections.CorrectionRequest, *, as_of: datetime
) -> corrections.CorrectionPreview:
    return corrections.preview_correction(_around(workspace, asked, as_of), asked, as_of=as_of)


def correct(
    workspace: Workspace, asked: corrections.CorrectionRequest, *, as_of: datetime
) -> tuple[int, corrections.CorrectionPreview]:
    made = corrections.correct(workspace, _around(workspace, asked, as_of), asked, as_of=as_of)
    return made.number, made.foreseen


def without_pay(seen: corrections.CorrectionPreview) -> corrections.CorrectionPreview:
    """What is foreseen where nobody asks for money: all but the pay."""
    unpaid: dict[str, Any] = dict.fromkeys(("pay", "straight_pay", "overtime_premium", "premium_pay", "other_pay"))
    changes = tuple(
        replace(one, before=replace(one.before, **unpaid), after=replace(one.after, **unpaid)) for one in seen.changes
    )
    return replace(seen, pay_before=None, pay_after=None, changes=changes)


def civil_instant(workspace: Workspace, person: str, text: str) -> datetime:
    return corrections.civil_instant(reckon_day(workspace, ANY, ANY.date()).snapshot, person, text)


def hand_off(
    workspace: Workspace, *, as_of: datetime, period_day: date | None = None, **given: Any
) -> handoff.HandedOff:
    reckoning = reckon_period(workspace, as_of, period_day)
    return handoff.hand_off(workspace, reckoning, as_of=as_of, period_day=period_day, **{"author": "Ada", **given})


def make_statement(
    workspace: Workspace, person: str, *, as_of: datetime, period_day: date | None = None, language: str = ""
) -> statement.Statement:
    reckoning = reckon_period(workspace, as_of, period_day, history=timedelta(0))
    return statement.statement(reckoning, person, period_day=period_day, language=language)


def audit_between(workspace: Workspace, first: date, last: date) -> rounding.Audit:
    edge = timedelta(days=7)
    return rounding.audit_between(reckon_weeks(workspace, ANY, first - edge, last + edge), first, last)


def find_strays(workspace: Workspace, as_of: datetime) -> stray_proposals.Strays:
    return strays.find_strays(reckon_period(workspace, as_of))


def preview_confirmation(
    workspace: Workspace, stray: str, person: str, *, as_of: datetime
) -> stray_decisions.Confirmation:
    return stray_decisions.preview_confirmation(reckon_period(workspace, as_of), stray, person)


def decide(decision: Any, workspace: Workspace, *what: Any, as_of: datetime, **said: Any) -> Any:
    """Call a decision about strays with the reckoning it is made on."""
    return decision(workspace, reckon_period(workspace, as_of), *what, as_of=as_of, **said)


def confusable_now(workspace: Workspace, as_of: datetime) -> Frame:
    return numbers.confusable_now(reckon_period(workspace, as_of))
