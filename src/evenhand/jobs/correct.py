"""Correct a person's punches by rows beside them, or take such a row back, after showing what that does."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import polars as pl

from evenhand import reconcile
from evenhand.jobs.correction_rows import NO_CORRECTION, CorrectionRequest, rows_of
from evenhand.jobs.effects import PeriodChange, pay_before_and_after, period_changes
from evenhand.jobs.hours import workweek_of
from evenhand.jobs.misfits import misfits
from evenhand.jobs.overtaken import (
    as_seen,
    corrections_since,
    refuse_both,
    refuse_corrected,
    refuse_twice,
    refuse_withdrawn,
)
from evenhand.jobs.reckoning import Reckoning, reckon_weeks
from evenhand.jobs.signed_hours import undone_by
from evenhand.jobs.sleep import sleep_misfits
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.store.database import Connection
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.wall_clock import instant_shown
from evenhand.terms.zones import check_reckoned, civil_date

__all__ = [
    "CorrectionMade",
    "CorrectionPreview",
    "CorrectionRequest",
    "civil_instant",
    "correct",
    "preview_correction",
    "reckon_around",
    "whom_it_is_about",
]

AROUND = timedelta(weeks=4)


@dataclass(frozen=True)
class CorrectionPreview:
    """What a correction does to paid seconds by class and to pay, before and after, over the same workweeks.

    The totals are the person's over all `changes`, which tell each pay period apart, also of others whose punches come
    or go. Pay is None where it is not known, see `total_pay`, or was not asked for. `at` is when the punch is; of one
    that is stored no longer, when it was corrected. `warnings` say what does not fit, `undoes`
    whose sign-off of these hours counts no longer.
    """

    asked: CorrectionRequest
    person: dict[str, object]
    at: int
    day: date
    ordinary_before_s: int
    overtime_before_s: int
    ordinary_after_s: int
    overtime_after_s: int
    double_before_s: int
    double_after_s: int
    questions_before: int
    questions_after: int
    pay_before: Decimal | None
    pay_after: Decimal | None
    changes: tuple[PeriodChange, ...]
    warnings: tuple[str, ...]
    undoes: tuple[str, ...] = ()


@dataclass(frozen=True)
class CorrectionMade:
    """A correction with its number, what it did to time, and the reckoning it was foreseen in, which it makes true."""

    number: int
    foreseen: CorrectionPreview
    after: Reckoning


def preview_correction(reckoning: Reckoning, asked: CorrectionRequest, *, as_of: datetime) -> CorrectionPreview:
    """Return what the correction would do to time and pay of the workweeks that it touches, writing nothing.

    Raises Refusal where it cannot be made, where it stands already, and where recorded time and steps of such a week
    do not make what is paid.
    """
    return _foresee(reckoning, asked, as_of, in_money=True).preview


@dataclass(frozen=True)
class _Foreseen:
    """What a correction would do, the first days of the first and last workweek looked at, and what then follows."""

    preview: CorrectionPreview
    weeks: tuple[date, date]
    after: Reckoning


def _foresee(reckoning: Reckoning, asked: CorrectionRequest, as_of: datetime, *, in_money: bool) -> _Foreseen:
    """Return what the correction would do; pay is left out where it is not wanted."""
    of = reckoning.snapshot
    who = of.find_person(asked.person)
    person = str(who["person"])
    rules = of.rules_of(who["site"])
    asked_for = rows_of(reckoning, asked, person, as_of)
    day = civil_date(rules.zone, asked_for.at)
    for row in asked_for.rows:
        refuse_withdrawn(of.corrections, row)
        refuse_both(of.corrections, row)
        refuse_twice(of.corrections, row)
    after = reckoning.with_corrections(asked_for.rows)
    people = _whose(reckoning, after, asked_for.punches, person)
    touched = {person: [workweek_of(rules, day)]}
    changes = period_changes(reckoning, after, people, touched, in_money=in_money)
    mine = [one for one in changes if one.person == person]
    before, later = [one.before for one in mine], [one.after for one in mine]
    pay_before, pay_after = pay_before_and_after(mine)
    seen = CorrectionPreview(
        asked=asked,
        person=who,
        at=asked_for.at,
        day=day,
        ordinary_before_s=sum(one.ordinary_s for one in before),
        overtime_before_s=sum(one.overtime_s for one in before),
        ordinary_after_s=sum(one.ordinary_s for one in later),
        overtime_after_s=sum(one.overtime_s for one in later),
        double_before_s=sum(one.double_s for one in before),
        double_after_s=sum(one.double_s for one in later),
        questions_before=sum(one.questions for one in before),
        questions_after=sum(one.questions for one in later),
        pay_before=pay_before,
        pay_after=pay_after,
        changes=changes,
        warnings=(
            *(sleep_misfits(after, person, asked_for.at) if asked.rule == "sleep" else ()),
            *(says for one in people for says in misfits(reckoning, after, one)),
        ),
        undoes=undone_by(reckoning, after, people),
    )
    return _Foreseen(seen, (min(one.first_week for one in mine), max(one.last_week for one in mine)), after)


def _whose(before: Reckoning, after: Reckoning, punches: list[int], person: str) -> list[str]:
    """Return the person meant, and whoever else had one of the punches before or has one after."""
    theirs = pl.col("punch").is_in(punches)
    having = [one for side in (before, after) for one in side.attribution.attributed.filter(theirs)["person"]]
    return list(dict.fromkeys([person, *having]))


def reckon_around(
    workspace: Workspace,
    *,
    at: str | None = None,
    punch: int | None = None,
    correction: int | None = None,
    as_of: datetime,
) -> Reckoning:
    """Return the reckoning of the weeks that a correction may touch: around the time `at`, the `punch` or the one that
    `correction`, which is to be taken back or changed, is about.
    """
    day = as_of.date()
    if at is not None:
        with suppress(ValueError):  # what is no time is refused where it is read
            day = check_reckoned(datetime.fromisoformat(at.strip()).date())
    if punch is not None or correction is not None:
        with workspace.store.reading() as conn:
            made = frames.corrections(conn)
            if correction is not None:
                punch = reconcile.punch_of(made, correction)
            times: list[int] = []
            if punch is not None:
                added = made.filter(pl.col("correction") == -punch)["at"].drop_nulls()
                times = [*frames.recorded_punch(conn, punch)["at"], *added]
        # the time decides where both are given, but for a correction that is changed
        if times and (at is None or correction is not None):
            day = datetime.fromtimestamp(times[0], UTC).date()
    return reckon_weeks(workspace, as_of, day - AROUND, day + AROUND)


def whom_it_is_about(reckoning: Reckoning, correction: int) -> str:
    """Return whom a correction names, or whose its punch is; raises Refusal where there is no such correction."""
    made = reckoning.snapshot.corrections
    punch = reconcile.punch_of(made, correction)
    if punch is None:
        raise Unknown(told(NO_CORRECTION, number=correction))
    root = reconcile.roots(made, [correction])[correction]
    named = made.filter(pl.col("correction") == root)["person"].to_list()
    has = reckoning.attribution.attributed.filter(pl.col("punch") == punch)["person"].to_list()
    earlier = made.filter(pl.col("punch") == punch)["person"].to_list()
    return str(next(filter(None, [*named, *has, *earlier])))


def civil_instant(snapshot: Snapshot, person: str, text: str) -> datetime:
    """Return the instant of a time as the clock on the wall of the person's site shows it.

    Raises Refusal where the text is no time, where clocks skip it, and where it occurs twice; a time with its
    offset, such as 2026-11-01T01:30-05:00, says which.
    """
    try:
        said = datetime.fromisoformat(text.strip())
    except ValueError as error:
        raise Refusal(told('"{text}" is no time; write it as 2026-11-12T17:02.', text=text)) from error
    if said.tzinfo is not None:
        check_reckoned(said.date())
        return said
    zone = snapshot.rules_of(snapshot.find_person(person)["site"]).zone
    return instant_shown(zone, said, ask="write {first} or {second}")


def correct(
    workspace: Workspace,
    reckoning: Reckoning,
    asked: CorrectionRequest,
    *,
    as_of: datetime,
    last_seen: int | None = None,
    beside: Callable[[Connection, int], None] | None = None,
) -> CorrectionMade:
    """Make the correction and return what it did to time, not to pay; the punches themselves stay as they are.

    `last_seen` is the last correction that its preview knew of (`Snapshot.last_correction`), where that is not the
    reckoning's. What `beside` writes, given the number of the correction, is kept with it or neither is. Raises
    Refusal where corrections made since then touch the same person and lie within the workweeks that the preview spoke
    of, or change what it said.
    """
    seen = reckoning if last_seen is None else as_seen(reckoning, _named(reckoning, asked), last_seen)
    foreseen = _foresee(seen, asked, as_of, in_money=False)
    who = foreseen.preview.person
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        made = frames.corrections(conn)
        rows = rows_of(seen, asked, str(who["person"]), as_of).rows
        for row in rows:
            refuse_withdrawn(made, row)
            refuse_both(made, row)
            refuse_twice(made, row)
        newer = corrections_since(seen.snapshot, str(who["person"]), made)
        if newer.height:
            refuse_corrected(seen.snapshot, who, newer, foreseen.weeks)
            now = reckoning.following(replace(reckoning.snapshot, corrections=made), reckoning.as_of)
            said, foreseen = foreseen.preview, _foresee(now, asked, as_of, in_money=False)
            if foreseen.preview != said:
                refuse_corrected(seen.snapshot, who, newer)
        number = decisions.add_corrections(conn, rows)[-1]
        if beside is not None:
            beside(conn, number)
    return CorrectionMade(number, foreseen.preview, foreseen.after)


def _named(reckoning: Reckoning, asked: CorrectionRequest) -> str:
    return str(reckoning.snapshot.find_person(asked.person)["person"])
