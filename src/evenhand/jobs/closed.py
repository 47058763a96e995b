"""Periods that were handed off: what has changed in them since, and how each change is made good, once.

A change becomes a file that replaces the one payroll has, or an adjustment that the next period's file carries, or is
made good outside of payroll's files. All three are lines beside what was told before, so that nothing is told twice.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any, Literal

import polars as pl

from evenhand import pay
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions
from evenhand.store.handed_off import add_adjustment, in_force
from evenhand.store.revision import revision
from evenhand.store.soundness import check_told
from evenhand.terms.closing import ClosedPeriod, PersonChange, changes_of_people
from evenhand.terms.columns import Frame
from evenhand.terms.handed_off import CLOSED_CHANGES, HANDED_OFF
from evenhand.terms.languages import DaySpan, told
from evenhand.terms.payroll import EARNED_ITEMS, ON_EARNINGS
from evenhand.terms.records import Refusal

__all__ = [
    "Adjusted",
    "ClosedPeriodListed",
    "Way",
    "adjust",
    "changes_if_replaced",
    "changes_of_lines",
    "closed_period",
    "closed_periods",
    "list_closed",
    "owed_of",
    "pending",
    "refuse_overtaken",
    "refuse_unseen",
    "told_of",
    "usual_way",
    "zones_of_people",
]

Way = Literal["next_file", "elsewhere"]


@dataclass(frozen=True)
class ClosedPeriodListed:
    """A period that was handed off, with the file in force, and what has changed since, person by person.

    `is_detailed` tells whether it is known line by line what the file told; of one written by an earlier version it is
    not, so that nothing can be told of what changed. `seen` names these very changes. `waiting` are those that were
    decided and that the next period's file is to carry; `way` is how what changed is made good where nobody says.
    """

    handoff: int
    first: date
    last: date
    file: str
    author: str
    made_at: int
    is_detailed: bool
    seen: str
    changes: tuple[PersonChange, ...]
    waiting: tuple[PersonChange, ...]
    way: str


@dataclass(frozen=True)
class Adjusted:
    """An adjustment that was decided: its number, the period it belongs to, whose, and what it is to tell."""

    adjustment: int
    first: date
    last: date
    way: Way
    people: tuple[str, ...]
    seconds: int
    amount: Decimal
    author: str
    reason: str


def closed_periods(reckoning: Reckoning) -> list[ClosedPeriod]:
    """Return the periods handed off that the reckoning reaches, the earliest first, with what has changed in each."""
    return reckoning.part("closed periods", lambda: _closed_periods(reckoning))


def list_closed(reckoning: Reckoning) -> list[ClosedPeriodListed]:
    """Return the periods handed off, the latest first, with what has changed in each."""
    names = reckoning.snapshot.names
    return [
        ClosedPeriodListed(
            one.handoff,
            one.first,
            one.last,
            one.file,
            one.author,
            one.made_at,
            one.is_detailed,
            one.digest,
            tuple(changes_of_people(one.changes, names)),
            changes_of_lines(_waiting(reckoning, one), names),
            usual_way(reckoning, one.first),
        )
        for one in reversed(closed_periods(reckoning))
    ]


def usual_way(reckoning: Reckoning, day: date, people: Sequence[str] = ()) -> str:
    """Return how a change of the closed period that holds `day` is made good where nobody says: `replace` or `adjust`.

    Until its deadline payroll waits for the period's file, so that a new one is still in time, for everybody in it.
    What changes afterwards is late, and the settings choose.
    """
    is_late = reckoning.as_of.timestamp() > reckoning.period(day).deadline
    return reckoning.snapshot.settings.late_changes if is_late or people else "replace"


def closed_period(reckoning: Reckoning, first: date, last: date) -> ClosedPeriod | None:
    """Return the period with its file in force, None where it was not handed off."""
    return next((one for one in closed_periods(reckoning) if (one.first, one.last) == (first, last)), None)


def _closed_periods(reckoning: Reckoning) -> list[ClosedPeriod]:
    of = reckoning.snapshot
    files = in_force(of.handoffs).filter(pl.col("first_day") >= of.first).sort("first_day", "handoff")
    known = files.filter("is_detailed")
    if of.last is not None:
        files = files.filter(pl.col("last_day") <= of.last)
    changes: dict[int, Frame] = {}
    if known.height:
        first, last = known["first_day"].min(), known["last_day"].max()
        assert isinstance(first, date)
        assert isinstance(last, date)
        owed, unknown = owed_of(reckoning, first, last), _unknown(reckoning, first, last)
        for row in known.iter_rows(named=True):
            inside = pl.col("workweek").is_between(row["first_day"], row["last_day"])
            money = json.loads(row["money"])
            mine = pay.told_in(owed.filter(inside), money)
            told = pay.told_in(of.handed_off_lines.filter(inside), money)
            changes[row["handoff"]] = pay.closed_changes(mine, told, unknown.filter(inside))
    return [
        ClosedPeriod(
            row["handoff"],
            row["first_day"],
            row["last_day"],
            row["file"],
            row["author"],
            row["made_at"],
            row["is_detailed"],
            changes.get(row["handoff"], CLOSED_CHANGES.empty()),
        )
        for row in files.iter_rows(named=True)
    ]


def owed_of(reckoning: Reckoning, first: date, last: date) -> Frame:
    """Return what is owed (HANDED_OFF) for the workweeks that begin from `first` to `last`, save those that fail."""

    def make(people: Collection[str] | None) -> Frame:
        hours = reckoning.hours if people is None else reckoning.hours.of(people)
        theirs = hours.in_weeks(first, last)
        paid = reckoning.pay_between(first, last)
        items = pl.concat([paid.items, paid.on_earnings])
        if people is not None:
            items = items.filter(pl.col("person").is_in(list(people)))
        premiums = pay.owed_premiums(theirs.premiums, paid.weeks, items)
        return pay.owed_lines(theirs.classed, premiums, theirs.differentials, items, zones_of_people(reckoning))

    return reckoning.frame_by_person(("owed lines", first, last), make)


def zones_of_people(reckoning: Reckoning) -> dict[str, str]:
    """Return the zone in which each person's days are counted: that of their site, else the workplace's."""
    of = reckoning.snapshot
    sites = of.people.select("person", pl.col("site").fill_null("")).iter_rows()
    return {person: of.rules[site].zone if site in of.rules else of.zone for person, site in sites}


def _unknown(reckoning: Reckoning, first: date, last: date) -> Frame:
    """Return the money of which it is not known what is owed: person, workweek, item."""
    paid, of = reckoning.pay_between(first, last), ["person", "workweek"]
    weeks = paid.weeks.filter(pl.col("total_pay").is_null()).select(of)
    told = reckoning.snapshot.handed_off_lines.select(*of, "item").unique()
    needs_no_rate = pl.col("item").is_in(list(EARNED_ITEMS.values())) | pl.col("item").str.starts_with(ON_EARNINGS)
    by_week = told.join(weeks, on=of, how="semi").filter(~needs_no_rate)
    by_item = pl.concat([paid.items, paid.on_earnings]).filter(pl.col("amount").is_null()).select(*of, "item")
    return pl.concat([by_week, by_item]).unique()


def told_of(reckoning: Reckoning, first: date, last: date, *, leave_out: int | None) -> Frame:
    """Return what files in force told of some workweeks (HANDED_OFF_LINES), without the file that is to be replaced.

    Adjustments that add to that file and no other carries are left out too: what replaces it tells them itself.
    """
    lines = reckoning.snapshot.handed_off_lines.filter(pl.col("workweek").is_between(first, last))
    if leave_out is not None:
        way = dict(reckoning.snapshot.adjustments.select("adjustment", "way").iter_rows())
        elsewhere = [number for number, how in way.items() if how == "elsewhere"]
        is_its_own = (pl.col("handoff") == leave_out) & pl.col("carrier").is_null()
        made_good = pl.col("adjustment").is_in(elsewhere).fill_null(value=False)
        lines = lines.filter(~(is_its_own & ~made_good))
    return lines


def pending(reckoning: Reckoning, before: date) -> Frame:
    """Return the adjustments (HANDED_OFF_LINES) of periods that end before a day and that no file carries yet."""
    of = reckoning.snapshot
    waiting = of.adjustments.filter(pl.col("way") == "next_file", pl.col("last_day") < before)["adjustment"]
    return of.handed_off_lines.filter(pl.col("carrier").is_null(), pl.col("adjustment").is_in(waiting.implode()))


def _waiting(reckoning: Reckoning, closed: ClosedPeriod) -> Frame:
    """Return the lines (HANDED_OFF_LINES) of adjustments of a closed period that no file carries yet."""
    of = reckoning.snapshot
    mine = of.adjustments.filter(pl.col("way") == "next_file", pl.col("first_day") == closed.first)["adjustment"]
    return of.handed_off_lines.filter(pl.col("carrier").is_null(), pl.col("adjustment").is_in(mine.implode()))


def changes_of_lines(lines: Frame, names: Mapping[str, str]) -> tuple[PersonChange, ...]:
    """Return what the lines (HANDED_OFF) of an adjustment change, person by person."""
    return tuple(changes_of_people(_told_by(lines), names))


def changes_if_replaced(reckoning: Reckoning, closed: ClosedPeriod) -> tuple[PersonChange, ...]:
    """Return what a file that replaces that of a closed period tells otherwise, person by person.

    That is what has changed, and what was to wait for the next period's file.
    """
    waiting = _told_by(_waiting(reckoning, closed))
    return tuple(changes_of_people(pl.concat([closed.changes, waiting]), reckoning.snapshot.names))


def _told_by(lines: Frame) -> Frame:
    told = lines.select(HANDED_OFF.names)
    return pay.closed_changes(told, HANDED_OFF.empty(), told.clear())


def adjust(
    workspace: Workspace,
    reckoning: Reckoning,
    day: date,
    *,
    people: Sequence[str] = (),
    way: Way = "next_file",
    seen: str = "",
    author: str,
    reason: str,
    as_of: datetime,
) -> Adjusted:
    """Have what changed in the closed period that holds `day` carried by the next period's file, or made good `way`.

    `people` are those it is decided for, everybody where none are named; `seen` is the digest of the changes shown.
    Raises Refusal where nothing has changed, where something else has since it was shown, and where nobody decides.
    """
    author, reason = author.strip(), reason.strip()
    if not author or not reason:
        raise Refusal(told("a change of a closed period is settled by somebody and for a reason; give both."))
    with workspace.store.reading() as conn:
        check_told(conn, workspace.store.where)
    period = reckoning.period(day)
    closed = closed_period(reckoning, period.first, period.last)
    if closed is None:
        raise Refusal(
            told(
                "{days} was not handed off; `evenhand handoff changes` shows what was.",
                days=DaySpan(period.first, period.last),
            )
        )
    refuse_unseen(reckoning, day, seen)
    named = [str(reckoning.snapshot.find_person(one)["person"]) for one in people]
    changes = closed.of_people(named)
    if changes.is_empty():
        raise Refusal(
            told(
                "nothing has changed in {days} since {file} was handed off.",
                days=DaySpan(period.first, period.last),
                file=closed.file,
            )
        )
    lines = pay.in_lines(changes)
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        refuse_overtaken(conn, reckoning)
        number = add_adjustment(
            conn,
            lines,
            handoff=closed.handoff,
            period=(closed.first, closed.last),
            way=way,
            author=author,
            reason=reason,
            made_at=int(as_of.timestamp()),
        )
    return Adjusted(
        number,
        closed.first,
        closed.last,
        way,
        tuple(sorted(set(lines["person"]))),
        int(lines["seconds"].sum()),
        Decimal(lines["amount"].sum() or 0),
        author,
        reason,
    )


def refuse_unseen(reckoning: Reckoning, day: date, seen: str) -> None:
    """Raise Refusal where the changes of the closed period that holds `day` are not those that were shown."""
    period = reckoning.period(day)
    closed = closed_period(reckoning, period.first, period.last)
    if seen and closed is not None and seen != closed.digest:
        raise Refusal(
            told(
                "{days} has changed again since this was shown; look again.",
                days=DaySpan(period.first, period.last),
            )
        )


def refuse_overtaken(conn: Any, reckoning: Reckoning) -> None:
    """Raise Refusal where something was taken or decided since the reckoning's snapshot."""
    if revision(conn).changed_since(reckoning.snapshot.revision):
        raise Refusal(told("something was taken or decided in the meantime; nothing was written: look again."))
