"""Correct a person's punches by rows beside them, after showing what the correction does to the hours."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

import polars as pl

from evenhand import reconcile
from evenhand.jobs.hours import workweek_of
from evenhand.jobs.overtaken import as_seen, corrections_since, refuse_corrected, refuse_twice
from evenhand.jobs.pay import total_pay
from evenhand.jobs.reckoning import Reckoning, reckon_weeks
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.terms.columns import Frame
from evenhand.terms.records import Refusal
from evenhand.terms.zones import check_reckoned, civil_date, instants_at

__all__ = [
    "CorrectionMade",
    "CorrectionPreview",
    "CorrectionRequest",
    "civil_instant",
    "correct",
    "preview_correction",
    "reckon_around",
]

AROUND = timedelta(weeks=4)


@dataclass(frozen=True)
class CorrectionRequest:
    """A correction as asked for: `add` wants `at`, `leave_out` a `punch`, `direct` a `punch` and a `direction`."""

    action: str
    person: str
    author: str
    reason: str
    punch: int | None = None
    at: datetime | None = None
    direction: str | None = None


@dataclass(frozen=True)
class CorrectionPreview:
    """What a correction does to the workweeks it touches: paid seconds by class and pay, before and after.

    Pay is None where it is not known, see `total_pay`, or was not asked for.
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
    at = _instant_of(reckoning, asked, person, as_of)
    day = civil_date(rules.zone, at)
    row = _row(asked, person, as_of)
    refuse_twice(of.corrections, row)
    after = reckoning.with_corrections([row])
    hours = reckoning.person_hours(person), after.person_hours(person)
    touched = [workweek_of(rules, day), *_changed_weeks(hours[0].weeks, hours[1].weeks)]
    weeks = min(touched), max(touched)
    before, later = (one.between(*weeks) for one in hours)
    for one in (before, later):
        one.refuse_failing()
    seen = CorrectionPreview(
        asked=asked,
        person=who,
        at=at,
        day=day,
        ordinary_before_s=int(before.weeks["ordinary_s"].sum()),
        overtime_before_s=int(before.weeks["overtime_s"].sum()),
        ordinary_after_s=int(later.weeks["ordinary_s"].sum()),
        overtime_after_s=int(later.weeks["overtime_s"].sum()),
        double_before_s=int(before.weeks["double_s"].sum()),
        double_after_s=int(later.weeks["double_s"].sum()),
        questions_before=before.questions.height,
        questions_after=later.questions.height,
        pay_before=_pay(reckoning, person, weeks) if in_money else None,
        pay_after=_pay(after, person, weeks) if in_money else None,
    )
    return _Foreseen(seen, weeks, after)


def _pay(reckoning: Reckoning, person: str, weeks: tuple[date, date]) -> Decimal | None:
    return total_pay(reckoning.snapshot, person, reckoning.pay_of(person, *weeks), weeks)


def _changed_weeks(before: Frame, after: Frame) -> list[date]:
    changed = pl.concat(
        [before.join(after, on=before.columns, how="anti"), after.join(before, on=before.columns, how="anti")]
    )
    return changed["workweek"].unique().to_list()


def reckon_around(
    workspace: Workspace, *, at: str | None = None, punch: int | None = None, as_of: datetime
) -> Reckoning:
    """Return the reckoning of the weeks that a correction may touch: around the time `at` or the `punch`."""
    day = as_of.date()
    if at is not None:
        with suppress(ValueError):  # what is no time is refused where it is read
            day = check_reckoned(datetime.fromisoformat(at.strip()).date())
    elif punch is not None:
        with workspace.store.reading() as conn:
            added = frames.corrections(conn).filter(-pl.col("correction") == punch)
            times = [*frames.recorded_punch(conn, punch)["at"].to_list(), *added["at"].drop_nulls().to_list()]
        day = datetime.fromtimestamp(times[0], UTC).date() if times else day
    return reckon_weeks(workspace, as_of, day - AROUND, day + AROUND)


def civil_instant(snapshot: Snapshot, person: str, text: str) -> datetime:
    """Return the instant of a time as the clock on the wall of the person's site shows it.

    Raises Refusal where the text is no time, where clocks skip it, and where it occurs twice; a time with its
    offset, such as 2026-11-01T01:30-05:00, says which.
    """
    try:
        said = datetime.fromisoformat(text.strip())
    except ValueError as error:
        raise Refusal(f'"{text}" is no time; write it as 2026-11-12T17:02.') from error
    check_reckoned(said.date())
    if said.tzinfo is not None:
        return said
    zone = snapshot.rules_of(snapshot.find_person(person)["site"]).zone
    instants = instants_at(zone, said)
    if not instants:
        raise Refusal(f"{said} is skipped in {zone}, where clocks were set forward; give the time that was shown.")
    if len(instants) > 1:
        both = (datetime.fromtimestamp(instant, ZoneInfo(zone)) for instant in instants)
        first, second = (at.isoformat("T", "minutes") for at in both)
        raise Refusal(f"{said} occurs twice in {zone}, where clocks were set back; write {first} or {second}.")
    return datetime.fromtimestamp(instants[0], ZoneInfo(zone))


def correct(
    workspace: Workspace,
    reckoning: Reckoning,
    asked: CorrectionRequest,
    *,
    as_of: datetime,
    last_seen: int | None = None,
) -> CorrectionMade:
    """Make the correction and return what it did to time, not to pay; the punches themselves stay as they are.

    `last_seen` is the last correction that its preview knew of (`Snapshot.last_correction`), where that is not the
    reckoning's. Raises Refusal where corrections made since then touch the same person and lie within the workweeks
    that the preview spoke of, or change what it said.
    """
    who = reckoning.snapshot.find_person(asked.person)
    row = _row(asked, str(who["person"]), as_of)
    seen = reckoning if last_seen is None else as_seen(reckoning, row["person"], last_seen)
    foreseen = _foresee(seen, asked, as_of, in_money=False)
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        made = frames.corrections(conn)
        refuse_twice(made, row)
        newer = corrections_since(seen.snapshot, row["person"], made)
        if newer.height:
            refuse_corrected(seen.snapshot, who, newer, foreseen.weeks)
            now = reckoning.following(replace(reckoning.snapshot, corrections=made), reckoning.as_of)
            said, foreseen = foreseen.preview, _foresee(now, asked, as_of, in_money=False)
            if foreseen.preview != said:
                refuse_corrected(seen.snapshot, who, newer)
        [number] = decisions.add_corrections(conn, [row])
    return CorrectionMade(number, foreseen.preview, foreseen.after)


def _row(asked: CorrectionRequest, person: str, as_of: datetime) -> dict[str, Any]:
    return {
        "action": asked.action,
        "person": person,
        "punch": asked.punch,
        "at": int(asked.at.timestamp()) if asked.at else None,
        "direction": asked.direction,
        "author": asked.author.strip(),
        "reason": asked.reason.strip(),
        "made_at": int(as_of.timestamp()),
    }


def _instant_of(reckoning: Reckoning, asked: CorrectionRequest, person: str, as_of: datetime) -> int:
    """Return when the corrected punch is, having checked that the request is whole and about this person."""
    if not asked.author.strip() or not asked.reason.strip():
        raise Refusal("a correction is made by somebody and for a reason; give both.")
    if asked.action == "add":
        if asked.at is None or asked.punch is not None:
            raise Refusal("to add a punch, give the time it should have, and no punch.")
        if asked.at > as_of:
            raise Refusal(f"{asked.at.isoformat()} lies in the future; only a punch that has happened can be added.")
        return int(asked.at.timestamp())
    if asked.punch is None or asked.at is not None:
        raise Refusal("to leave a punch out or direct it, give the punch's number, and no time.")
    if (asked.action == "direct") != (asked.direction is not None):
        raise Refusal("a direction, in or out, is given when a punch is directed, and only then.")
    of = reckoning.snapshot
    # What was left out stays the person's, so that it can be directed, and counts, again.
    said = of.corrections.filter(pl.col("action") != "leave_out")
    held = reconcile.attribute(of.recorded, of.people, of.readers, said, punches=[asked.punch]).attributed
    mine = held.filter(pl.col("person") == person)
    if mine.height == 0:
        raise Refusal(f"punch {asked.punch} is not one of {person}'s; `evenhand hours why` lists theirs.")
    return int(mine["at"][0])
