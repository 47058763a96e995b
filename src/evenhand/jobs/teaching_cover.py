"""Whether somebody who can is on every reader and shift, whom to show where nobody is, and what a planned day lacks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.jobs.enrolling import PlannedRound
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.supervision import supervision_of
from evenhand.jobs.teaching import SupervisorWork, see_work
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Sentence, clock_told, sentence, told
from evenhand.terms.supervision import STANDING_STATES

__all__ = ["ReaderCover", "ShiftUncovered", "lacking_in_plan", "see_cover"]

AHEAD = timedelta(days=14)
FEW = 0.05
"""Shifts that are a smaller share of a reader's are told together."""
PROPOSED = 2
DAY_S = 86_400


@dataclass(frozen=True)
class ShiftUncovered:
    """Shifts at a reader that nobody touches who can: `alone` of `shifts`, and who could be shown, most there first.

    `begins` and `ends` are clock times of the reader's zone; empty for shifts of times that are seldom.
    """

    begins: str
    ends: str
    shifts: int
    alone: int
    show: tuple[str, ...]


@dataclass(frozen=True)
class ReaderCover:
    """Who can at one reader, who stands there and should be shown again, and the shifts that nobody covers who can.

    Of who stands there and is `not_known` nothing on file shows yet whether they can. `shifts` is how many of the
    people enrolled there were looked at; 0 where none are on file.
    """

    reader: str
    can: tuple[str, ...]
    again: tuple[str, ...]
    not_known: tuple[str, ...]
    shifts: int
    uncovered: tuple[ShiftUncovered, ...]


def see_cover(reckoning: Reckoning) -> list[ReaderCover]:
    """Return each reader's cover over the shifts of the last four weeks and the next two, by reader.

    Somebody can who stands there as a supervisor (SUPERVISION, proved or old), of whom something on file shows it, and
    who need not be shown again.
    """
    return reckoning.part(("cover by who can", reckoning.as_of), lambda: _see(reckoning))


def _see(reckoning: Reckoning) -> list[ReaderCover]:
    work = {one.who.person: one for one in see_work(reckoning)}
    stand = supervision_of(reckoning).filter(pl.col("state").is_in(STANDING_STATES))
    there = stand.select("reader", "person").unique(maintain_order=True)
    can = there.filter(pl.col("person").is_in([person for person, one in work.items() if one.can]))
    theirs = _shifts_of_others(reckoning, there)
    alone = reconcile.untouched(theirs.select("reader", "person", "starts_at", "ends_at"), _shifts(reckoning, can))
    labelled = theirs.join(
        alone.unique().with_columns(is_alone=True), on=["reader", "person", "starts_at", "ends_at"], how="left"
    )
    shown = _could_be_shown(reckoning, labelled.filter("is_alone"))
    names = {person: one.who.name for person, one in work.items()}
    uncovered = _uncovered(labelled, shown, names)
    counts = dict(theirs.group_by("reader").len().iter_rows())

    def named(of: Frame, reader: str) -> tuple[str, ...]:
        here = of.filter(pl.col("reader") == reader)["person"]
        return tuple(sorted(names[person] for person in here if person in names))

    again = there.filter(pl.col("person").is_in([person for person, one in work.items() if one.reasons]))
    not_known = there.join(pl.concat([can, again]), on=("reader", "person"), how="anti")
    return [
        ReaderCover(
            reader,
            named(can, reader),
            named(again, reader),
            named(not_known, reader),
            counts.get(reader, 0),
            tuple(uncovered.get(reader, ())),
        )
        for reader in reckoning.snapshot.readers["reader"].sort().to_list()
    ]


def _shifts(reckoning: Reckoning, at_readers: Frame) -> Frame:
    now = int(reckoning.as_of.timestamp())
    since = now - int(reconcile.LOOKED_BACK.total_seconds())
    near = reckoning.snapshot.schedules.filter(
        pl.col("ends_at") > since, pl.col("starts_at") < now + int(AHEAD.total_seconds())
    )
    spans = near.select("person", "starts_at", "ends_at")
    return at_readers.join(spans, on="person").select("reader", "person", "starts_at", "ends_at")


def _shifts_of_others(reckoning: Reckoning, there: Frame) -> Frame:
    """Return the shifts of who is enrolled at a reader and no supervisor there, with `begins` and `ends` by clock."""
    of = reckoning.snapshot
    roster = of.people.select("person", "number").drop_nulls()
    held = of.enrolments.select("reader", "number").join(roster, on="number").select("reader", "person").unique()
    shifts = _shifts(reckoning, held.join(there, on=("reader", "person"), how="anti"))
    labelled = shifts.join(_clock_times(shifts, of.readers), on=["reader", "starts_at", "ends_at"])
    share = pl.len().over("reader", "begins", "ends") / pl.len().over("reader")
    return labelled.with_columns(
        pl.when(share >= FEW).then(pl.col(name)).otherwise(pl.lit("")).alias(name) for name in ("begins", "ends")
    )


def _clock_times(shifts: Frame, readers: Frame) -> Frame:
    """Return the spans of shifts (reader, starts_at, ends_at) with `begins` and `ends` by the reader's clock."""
    spans = shifts.select("reader", "starts_at", "ends_at").unique()
    parts = []
    for (zone,), of in readers.select("reader", "zone").group_by("zone"):
        here = spans.join(of, on="reader", how="semi")
        parts.append(here.with_columns(begins=_clock("starts_at", str(zone)), ends=_clock("ends_at", str(zone))))
    return pl.concat(parts) if parts else spans.with_columns(begins=pl.lit(""), ends=pl.lit(""))


def _clock(column: str, zone: str) -> pl.Expr:
    moment = pl.from_epoch(column, time_unit="s").dt.replace_time_zone("UTC").dt.convert_time_zone(zone)
    return moment.dt.strftime("%H:%M")


def _could_be_shown(reckoning: Reckoning, alone: Frame) -> Frame:
    """Return reader, begins, ends, supervisor and `touched`: in how many of the shifts one of the site is there."""
    of = reckoning.snapshot
    sites = of.readers.select("reader", "site")
    named = [one.who.person for one in see_work(reckoning)]
    could = of.people.filter(pl.col("person").is_in(named)).select("person", "site")
    theirs = _shifts(reckoning, could.join(sites, on="site", nulls_equal=True).select("reader", "person"))
    by_day = pl.concat([theirs.with_columns(day=pl.col("starts_at") // DAY_S + shift) for shift in (-1, 0, 1)]).rename(
        {"person": "supervisor", "starts_at": "from_at", "ends_at": "until_at"}
    )
    spans = alone.group_by("reader", "starts_at", "ends_at", "begins", "ends").agg(people=pl.len())
    met = (
        spans.with_columns(day=pl.col("starts_at") // DAY_S)
        .join(by_day, on=["reader", "day"])
        .filter(pl.col("from_at") < pl.col("ends_at"), pl.col("until_at") > pl.col("starts_at"))
        .unique(["reader", "starts_at", "ends_at", "supervisor"])
    )
    return met.group_by("reader", "begins", "ends", "supervisor").agg(touched=pl.col("people").sum())


def _uncovered(labelled: Frame, shown: Frame, names: Mapping[str, str]) -> dict[str, list[ShiftUncovered]]:
    counted = (
        labelled.group_by("reader", "begins", "ends")
        .agg(shifts=pl.len(), alone=pl.col("is_alone").fill_null(value=False).sum())
        .filter(pl.col("alone") > 0)
        .sort("reader", "begins", "ends")
    )
    ranked = shown.sort("touched", "supervisor", descending=[True, False])
    found: dict[str, list[ShiftUncovered]] = {}
    for row in counted.iter_rows(named=True):
        here = ranked.filter(*(pl.col(name) == row[name] for name in ("reader", "begins", "ends")))
        show = tuple(names[person] for person in here["supervisor"].head(PROPOSED))
        found.setdefault(row["reader"], []).append(
            ShiftUncovered(row["begins"], row["ends"], row["shifts"], row["alone"], show)
        )
    return found


def lacking_in_plan(reckoning: Reckoning, planned: PlannedRound) -> list[str]:
    """Return in words where a planned round has nobody standing by who is known to be able, and what to do."""
    work = {one.who.name: one for one in see_work(reckoning)}
    can_at = {one.reader: one.can for one in see_cover(reckoning)}
    said: dict[tuple[str, str], list[dict[str, Any]]] = {}
    to_come = planned.items.filter(pl.col("action") != "remove", ~pl.col("item").is_in(list(planned.over)))
    for row in to_come.iter_rows(named=True):
        stands = row["stands"] or ""
        if stands not in work or not work[stands].can:
            said.setdefault((row["reader"], stands), []).append(row)
    return [
        _lack(reader, stands, rows, work, can_at.get(reader, ()), planned.zone_at(reader))
        for (reader, stands), rows in said.items()
    ]


def _lack(
    reader: str,
    stands: str,
    rows: list[dict[str, Any]],
    work: Mapping[str, SupervisorWork],
    can: tuple[str, ...],
    zone: str,
) -> str:
    begins = min((row["starts_at"] for row in rows if row["starts_at"] is not None), default=None)
    if begins is None:
        when = told("At {reader}", reader=reader)
    else:
        when = told("At {reader} from {begins}", reader=reader, begins=clock_told(begins, zone))
    other = sentence("{when} {what}, or have {names:or} stand by, who can.") if can else sentence("{when} {what}.")
    return told(other, when=when, what=_who_stands(stands, work), names=can[:3])


def _who_stands(stands: str, work: Mapping[str, SupervisorWork]) -> Sentence:
    """Return who stands by, why that is not enough, and what to do."""
    if not stands:
        return told("nobody stands by: choose who stands by, and show them before that day")
    if stands not in work:
        return told(
            "{name} stands by, who is no supervisor on the roster: choose who stands by, and show them before that day",
            name=stands,
        )
    of = work[stands]
    if of.reasons:
        return told(
            "{name} stands by, who should be shown again ({why}): show {name} before that day",
            name=stands,
            why=of.reasons,
        )
    return told(
        "{name} stands by, of whom it is not known yet ({why}): let {name} practise before that day",
        name=stands,
        why=of.not_known,
    )
