"""What Hours shows of one day: the punches, what the rules did, what is paid, and that it adds up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

from markupsafe import Markup

from evenhand.jobs.history import DayDecision
from evenhand.jobs.hours import DayHours
from evenhand.terms.columns import Frame
from evenhand.terms.hours import CLASSED
from evenhand.terms.languages import Sentence, Speech, clock_told, told
from evenhand.terms.open_punches import Offered, offered_of, say_meal_open, say_proposal, say_punch, say_question
from evenhand.terms.records import Step
from evenhand.terms.words import as_change
from evenhand.web.marks import HOUR_S, Lane, Span, hour_marks, timeline
from evenhand.web.pages.hours.drawing import (
    doubt_ticks,
    paid_spans,
    punch_ticks,
)

__all__ = ["AccountLine", "DayQuestion", "DayView", "day"]


@dataclass(frozen=True)
class AccountLine:
    """One line of the account: what happened, the seconds it adds or takes, the punches and the source."""

    says: str
    seconds: int
    punches: Sequence[str]
    cites: str


@dataclass(frozen=True)
class DayQuestion:
    """What the punches do not tell, in words; `proposed` says what may have been, `stray` which stray that may be."""

    says: str
    minutes: int
    proposed: str
    stray: str


@dataclass(frozen=True)
class DayView:
    """One day of one person; `recorded_s` and the steps' seconds add up to `paid_s`."""

    person: Mapping[str, Any]
    day: date
    earlier: date
    later: date
    weeks: Sequence[date]
    zone: str
    drawn: Markup
    recorded: Sequence[AccountLine]
    steps: Sequence[AccountLine]
    recorded_s: int
    steps_s: int
    paid_s: int
    by_class: Sequence[tuple[str, int]]
    owed: Sequence[Mapping[str, Any]]
    meal_open: str
    differentials: Sequence[Mapping[str, Any]]
    questions: Sequence[DayQuestion]
    punches: Sequence[tuple[int, str]]
    history: Sequence[DayDecision]
    hour_twice: bool
    offered: Offered


def day(hours: DayHours, history: Sequence[DayDecision], proposals: Frame, speech: Speech) -> DayView:
    """Return one day's page; `history` is what was decided, `proposals` (PROPOSALS) are of open punches."""
    zone = hours.week.rules.zone
    named = _punch_names(hours.attributed, zone)
    return DayView(
        person=hours.week.person,
        day=hours.day,
        earlier=hours.day - timedelta(days=1),
        later=hours.day + timedelta(days=1),
        weeks=[week.workweek for week in hours.weeks],
        zone=zone,
        drawn=_drawn(hours, zone, speech),
        recorded=_recorded_rows(hours, named, zone),
        steps=[
            AccountLine(
                step.says,
                step.seconds,
                [named[punch] for punch in step.punches if punch in named],
                step.cites,
            )
            for step in hours.steps
        ],
        recorded_s=hours.recorded_s,
        steps_s=hours.steps_s,
        paid_s=hours.paid_s,
        by_class=[
            (kind, int((spans["ends"] - spans["starts"]).sum()))
            for kind in CLASSED.column("pay_class").allowed
            if (spans := hours.classed.filter(hours.classed["pay_class"] == kind)).height
        ],
        owed=hours.premiums.rows(named=True),
        meal_open=say_meal_open(hours.premiums["kind"].to_list(), hours.questions["kind"].to_list()),
        differentials=[
            row | {"seconds": row["ends"] - row["starts"]} for row in hours.differentials.iter_rows(named=True)
        ],
        questions=_questions(hours, proposals, zone),
        offered=offered_of(proposals.rows(named=True), hours.questions["kind"].to_list(), zone),
        punches=[(punch, named[punch]) for punch in hours.punches.sort("at")["punch"].to_list()],
        history=history,
        hour_twice=hours.ends - hours.starts > 24 * HOUR_S,
    )


def _punch_names(attributed: Frame, zone: str) -> dict[int, Sentence]:
    return {
        punch: say_punch(at, zone, way, reader)
        for punch, at, way, reader in attributed.select("punch", "at", "direction", "reader").iter_rows()
    }


def _recorded_rows(hours: DayHours, named: Mapping[int, str], zone: str) -> list[AccountLine]:
    at = dict(hours.attributed.select("punch", "at").iter_rows())
    rows = []
    for span in hours.recorded.iter_rows(named=True):
        starts, ends = span["starts"], span["ends"]
        bounds = ((starts, span["punch_in"]), (ends, span["punch_out"]))
        punches = [named[punch] for instant, punch in bounds if at[punch] == instant]
        between = {"starts": clock_told(starts, zone), "ends": clock_told(ends, zone)}
        is_cut = len(punches) < 2
        says = (
            told("recorded from {starts} to {ends} (the day's part)", **between)
            if is_cut
            else told("recorded from {starts} to {ends}", **between)
        )
        rows.append(AccountLine(says, ends - starts, punches, ""))
    return rows


def _questions(hours: DayHours, proposals: Frame, zone: str) -> list[DayQuestion]:
    proposed = {row["punch"]: row for row in proposals.iter_rows(named=True)}
    asked: list[DayQuestion] = []
    for row in hours.questions.iter_rows(named=True):
        told = proposed.get(row["punch"]) if row["kind"] in ("missing_in", "missing_out") else None
        says = say_proposal(told, zone, hours.day) if told else ""
        if says in [one.proposed for one in asked]:  # one punch may answer two questions
            says = ""
        stray = (told["stray"] or "") if told and says else ""
        asked.append(DayQuestion(say_question(row["kind"], row["at"], zone, hours.day), row["minutes"], says, stray))
    return asked


def _window(hours: DayHours) -> tuple[int, int]:
    """The hours in which something happens, with half an hour's room; the working day where nothing does."""
    instants = [
        *hours.punches["at"].to_list(),
        *hours.classed["starts"].to_list(),
        *hours.classed["ends"].to_list(),
        *hours.questions["at"].to_list(),
    ]
    if not instants:
        return hours.starts + 6 * HOUR_S, hours.starts + 18 * HOUR_S
    first = (min(instants) - HOUR_S // 2) // HOUR_S * HOUR_S
    last = -(-(max(instants) + HOUR_S // 2) // HOUR_S) * HOUR_S
    return max(first, hours.starts), min(max(last, first + 4 * HOUR_S), hours.ends)


def _drawn(hours: DayHours, zone: str, speech: Speech) -> Markup:
    window, say = _window(hours), speech.said
    lanes = [
        Lane(
            say(told("Recorded")),
            [
                Span(
                    a,
                    b,
                    "recorded",
                    say(told("recorded, {starts} to {ends}", starts=clock_told(a, zone), ends=clock_told(b, zone))),
                    say(told("{starts} to {ends}", starts=clock_told(a, zone), ends=clock_told(b, zone))),
                )
                for a, b in hours.recorded.select("starts", "ends").iter_rows()
            ],
            [*punch_ticks(hours.punches, zone, speech), *doubt_ticks(hours.questions, zone, speech)],
        ),
        Lane(say(told("What the rules did")), [*_moves(hours.steps, speech), *_unpaid_gaps(hours, zone, speech)]),
        Lane(say(told("Paid")), paid_spans(hours.classed, zone, speech)),
    ]
    says = told(
        "{day:long}: {count} punches, {recorded:duration} recorded, {paid:duration} paid; the table below says the "
        "same",
        day=hours.day,
        count=hours.punches.height,
        recorded=hours.recorded_s,
        paid=hours.paid_s,
    )
    return timeline(lanes, window, hour_marks(window, zone, _hours_apart(window)), say(says), named=True)


def _hours_apart(window: tuple[int, int]) -> int:
    """Every how many hours the axis is marked, so that the labels stand apart."""
    hours = (window[1] - window[0]) / HOUR_S
    return 1 if hours <= 10 else 2 if hours <= 16 else 3


def _moves(steps: Sequence[Step], speech: Speech) -> list[Span]:
    return [
        Span(
            step.starts,
            step.ends,
            "given" if step.seconds > 0 else "taken",
            speech.retold(step.says),
            as_change(step.seconds),
        )
        for step in steps
        if step.seconds
    ]


def _unpaid_gaps(hours: DayHours, zone: str, speech: Speech) -> list[Span]:
    """The gaps within a shift that are not paid: meals."""
    paid = hours.classed.select("starts", "ends", "shift").rows()
    return [
        Span(
            ends,
            starts,
            "gap",
            speech.said(
                told("not paid, {starts} to {ends}", starts=clock_told(ends, zone), ends=clock_told(starts, zone))
            ),
            speech.said(told("{time:duration} unpaid", time=starts - ends)),
        )
        for (_, ends, shift), (starts, _, following) in pairwise(paid)
        if shift == following and starts > ends
    ]
