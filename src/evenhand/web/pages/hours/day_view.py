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
from evenhand.terms.open_punches import Offered, offered_of, say_meal_open, say_proposal, say_question
from evenhand.terms.records import Step
from evenhand.terms.words import as_change, as_clock, as_duration, as_long_day
from evenhand.web.marks import HOUR_S, WAYS, Lane, Span, hour_marks, timeline
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


def day(hours: DayHours, history: Sequence[DayDecision], proposals: Frame) -> DayView:
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
        drawn=_drawn(hours, zone),
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


def _punch_names(attributed: Frame, zone: str) -> dict[int, str]:
    return {
        punch: f"{as_clock(at, zone)} {WAYS[way]}, {reader or 'added by a correction'}"
        for punch, at, way, reader in attributed.select("punch", "at", "direction", "reader").iter_rows()
    }


def _recorded_rows(hours: DayHours, named: Mapping[int, str], zone: str) -> list[AccountLine]:
    at = dict(hours.attributed.select("punch", "at").iter_rows())
    rows = []
    for span in hours.recorded.iter_rows(named=True):
        starts, ends = span["starts"], span["ends"]
        bounds = ((starts, span["punch_in"]), (ends, span["punch_out"]))
        punches = [named[punch] for instant, punch in bounds if at[punch] == instant]
        cut = " (the day's part)" if len(punches) < 2 else ""
        rows.append(
            AccountLine(
                f"recorded from {as_clock(starts, zone)} to {as_clock(ends, zone)}{cut}", ends - starts, punches, ""
            )
        )
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


def _drawn(hours: DayHours, zone: str) -> Markup:
    window = _window(hours)
    lanes = [
        Lane(
            "Recorded",
            [
                Span(
                    a,
                    b,
                    "recorded",
                    f"recorded, {as_clock(a, zone)} to {as_clock(b, zone)}",
                    f"{as_clock(a, zone)} to {as_clock(b, zone)}",
                )
                for a, b in hours.recorded.select("starts", "ends").iter_rows()
            ],
            [*punch_ticks(hours.punches, zone), *doubt_ticks(hours.questions, zone)],
        ),
        Lane("What the rules did", [*_moves(hours.steps), *_unpaid_gaps(hours, zone)]),
        Lane("Paid", paid_spans(hours.classed, zone)),
    ]
    says = (
        f"{as_long_day(hours.day)}: {hours.punches.height} punches, "
        f"{as_duration(hours.recorded_s)} recorded, {as_duration(hours.paid_s)} paid; "
        "the table below says the same"
    )
    return timeline(lanes, window, hour_marks(window, zone, _hours_apart(window)), says, named=True)


def _hours_apart(window: tuple[int, int]) -> int:
    """Every how many hours the axis is marked, so that the labels stand apart."""
    hours = (window[1] - window[0]) / HOUR_S
    return 1 if hours <= 10 else 2 if hours <= 16 else 3


def _moves(steps: Sequence[Step]) -> list[Span]:
    return [
        Span(step.starts, step.ends, "given" if step.seconds > 0 else "taken", step.says, as_change(step.seconds))
        for step in steps
        if step.seconds
    ]


def _unpaid_gaps(hours: DayHours, zone: str) -> list[Span]:
    """The gaps within a shift that are not paid: meals."""
    paid = hours.classed.select("starts", "ends", "shift").rows()
    return [
        Span(
            ends,
            starts,
            "gap",
            f"not paid, {as_clock(ends, zone)} to {as_clock(starts, zone)}",
            f"{as_duration(starts - ends)} unpaid",
        )
        for (_, ends, shift), (starts, _, following) in pairwise(paid)
        if shift == following and starts > ends
    ]
