"""What is proposed for punches that are missing: for a pay period, and for one person's day."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, datetime, timedelta

import polars as pl

from evenhand import law
from evenhand.jobs.correction_rows import CorrectionRequest
from evenhand.jobs.hours import DayHours, WorkedHours, around
from evenhand.jobs.reckoning import Reckoning, reckon_weeks
from evenhand.jobs.workspace import Workspace
from evenhand.terms.columns import Frame
from evenhand.terms.hours import PROPOSALS
from evenhand.terms.languages import sentence, told
from evenhand.terms.settings import Period

__all__ = ["HABIT", "proposals_of_day", "proposals_of_period", "propose_for_day", "reason_proposed"]

HABIT = timedelta(weeks=6)
"""How far back habits are looked for."""

BEFORE = timedelta(weeks=2)
"""A workweek that reaches into the first of those weeks begins no earlier than this before it."""

MISSING = pl.col("kind").is_in(["missing_in", "missing_out"])


def proposals_of_period(reckoning: Reckoning, hours: WorkedHours, period: Period) -> Frame:
    """Return what the period's missing punches may be (PROPOSALS), from some weeks of the same people's punches."""

    def make(people: Collection[str] | None) -> Frame:
        asked = hours.questions if people is None else hours.questions.filter(pl.col("person").is_in(list(people)))
        missing = asked.filter(MISSING)
        if missing.is_empty():
            return PROPOSALS.empty()
        theirs = pl.col("person").is_in(missing["person"].unique().implode())
        in_reach = pl.col("workweek").is_between(period.first - HABIT, period.last)
        classed = reckoning.hours.classed.filter(in_reach, theirs)
        attributed = around(reckoning.attribution.attributed.filter(theirs), period.first - HABIT, period.last)
        return _proposed(reckoning, missing, attributed, classed)

    # A stray is decided on without a word about those it may belong to, and time passes: both are looked at anew.
    proposed = reckoning.frame_by_person(("proposals", period), make)
    return _past(reckoning, law.link_strays(proposed, hours.attributed, hours.unattributed))


def proposals_of_day(reckoning: Reckoning, day: DayHours) -> Frame:
    """Return what the day's missing punches may be (PROPOSALS); the reckoning should reach `HABIT` back before it."""
    asked = day.questions.filter(MISSING)
    if asked.is_empty():
        return PROPOSALS.empty()
    hours = reckoning.person_hours(day.week.person["person"]).between(day.day - HABIT, day.day)
    proposed = _proposed(reckoning, asked, hours.attributed, hours.classed)
    unattributed = around(reckoning.attribution.unattributed, day.day, day.day)
    return _past(reckoning, law.link_strays(proposed, hours.attributed, unattributed))


def propose_for_day(workspace: Workspace, as_of: datetime, day: DayHours) -> Frame:
    """Return what a day's missing punches may be, reading the weeks before it where there are any."""
    if day.questions.filter(MISSING).is_empty():
        return PROPOSALS.empty()
    return proposals_of_day(reckon_weeks(workspace, as_of, day.day - HABIT - BEFORE, day.day), day)


def reason_proposed(reckoning: Reckoning, person: str, day: date, asked: CorrectionRequest) -> str:
    """Return the reason that a proposal gives for this very correction of a person's day; '' where none proposes it."""
    if asked.action not in ("add", "direct", "leave_out"):
        return ""
    proposals = proposals_of_day(reckoning, reckoning.person_day(person, day))
    if asked.action == "add":
        at = int(asked.at.timestamp()) if asked.at else None
        alike = proposals.filter(
            pl.col("at") // 60 == at // 60 if at is not None else False, pl.col("suspect").is_null()
        )
    else:
        kind = "wrong_way" if asked.action == "direct" else "too_many"
        alike = proposals.filter(kind=kind, suspect=asked.punch)
    if asked.action != "leave_out":
        alike = alike.filter(pl.col("way") == asked.direction)
    return told("as proposed: {says:again}", says=alike["says"][0]) if alike.height else ""


def _proposed(reckoning: Reckoning, asked: Frame, attributed: Frame, classed: Frame) -> Frame:
    of = reckoning.snapshot
    return law.propose_punches(asked, attributed, classed, of.schedules, of.settings.policy, reckoning.zone)


def _past(reckoning: Reckoning, proposed: Frame) -> Frame:
    """Return the proposals without times that are still to come: who came in may not have gone yet."""
    ahead = pl.col("at") > int(reckoning.as_of.timestamp())
    told = {"kind": "not_sure", "says": sentence("the person may be in still")}
    nothing = [name for name in PROPOSALS.names if name not in ("person", "punch", *told)]
    return proposed.with_columns(
        *(pl.when(ahead).then(pl.lit(said)).otherwise(name).alias(name) for name, said in told.items()),
        *(pl.when(~ahead | pl.col("at").is_null()).then(name).alias(name) for name in nothing),
    )
