"""Hand a closed pay period to payroll: the file in two forms, and a note that lets it be checked and defended."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path

import polars as pl

from evenhand import pay
from evenhand.jobs.closed import (
    Adjusted,
    Way,
    adjust,
    changes_if_replaced,
    changes_of_lines,
    closed_period,
    owed_of,
    pending,
    refuse_overtaken,
    refuse_unseen,
    told_of,
    usual_way,
)
from evenhand.jobs.handoff_note import note_of
from evenhand.jobs.handoff_refused import refuse_replaced, refuse_twice, refuse_unready
from evenhand.jobs.payroll_tables import ToldBeside, money_told, payroll_tables
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_period import period_signed
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.today import Today, find_today
from evenhand.jobs.workspace import Workspace
from evenhand.pay import ControlTotal
from evenhand.store import decisions
from evenhand.store.handed_off import add_handoff
from evenhand.store.handing import digest_of, handing, put_in_place
from evenhand.store.soundness import check_database, check_takes, check_told
from evenhand.terms.closing import ClosedPeriod, PersonChange
from evenhand.terms.columns import Frame
from evenhand.terms.handed_off import HANDED_OFF
from evenhand.terms.json_form import as_json_value
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Refusal
from evenhand.terms.settings import Period

__all__ = [
    "AdjustmentCarried",
    "FileForPayroll",
    "FilesForeseen",
    "HandedOff",
    "foresee_files",
    "hand_off",
    "settle_closed",
]

CLOSED = "closed_period_changed"
"""The check of what has changed in periods that were handed off."""


@dataclass(frozen=True)
class FileForPayroll:
    """The file of one payroll, in two forms, with its control total; `payroll` is empty where there is but one."""

    payroll: str
    csv: Path
    xlsx: Path
    total: ControlTotal


@dataclass(frozen=True)
class AdjustmentCarried:
    """An adjustment of an earlier period in a file: its number, whose decision it was and why, and what it changes."""

    adjustment: int
    first: date
    last: date
    author: str
    reason: str
    changes: tuple[PersonChange, ...]


@dataclass(frozen=True)
class FilesForeseen:
    """What files written now would hold, with the adjustments of earlier periods that they carry.

    `elsewhere` (HANDED_OFF) is what other files tell of the period already, so that these leave it out.
    """

    tables: tuple[pay.PayrollTable, ...]
    adjusts: tuple[AdjustmentCarried, ...]
    elsewhere: Frame


@dataclass(frozen=True)
class HandedOff:
    """The files written for one period and their note, and the digest of what they were computed from.

    `number` is the record's. `replaces` names the file that counts no longer, `changes` what it and the new one differ
    in; `adjusts` are the earlier periods of which the file carries adjustments, with what each changes.
    """

    first: date
    last: date
    files: tuple[FileForPayroll, ...]
    note: Path
    digest: str
    despite: tuple[str, ...]
    number: int = 0
    replaces: str = ""
    reason: str = ""
    changes: tuple[PersonChange, ...] = ()
    adjusts: tuple[AdjustmentCarried, ...] = ()

    @property
    def csv(self) -> Path:
        """Return the first payroll's file, by which the hand-off is known."""
        return self.files[0].csv

    @property
    def paths(self) -> list[Path]:
        """Return every file written, the note last."""
        return [*(path for one in self.files for path in (one.csv, one.xlsx)), self.note]

    @property
    def totals(self) -> dict[str, object]:
        """Return what is kept of the control totals: those of every file, and over all of them."""
        every = [one.total for one in self.files]
        names = ("rows", "people", "ordinary_s", "overtime_s", "double_s", "printed_ordinary", "printed_overtime")
        summed = {name: str(sum(getattr(one, name) for one in every)) for name in (*names, "printed_double")}
        return {**summed, "files": as_json_value([{"file": one.csv.name, **vars(one.total)} for one in self.files])}


def hand_off(
    workspace: Workspace,
    reckoning: Reckoning,
    *,
    as_of: datetime,
    period_day: date | None = None,
    author: str,
    despite: bool = False,
    replace_why: str | None = None,
) -> HandedOff:
    """Write the period's files and keep a record of them, with who handed it off.

    The first file of a period carries the adjustments of earlier periods that are waiting. A period that was handed off
    is written anew only where `replace_why` says why: the new file holds what is owed now, less what later files have
    told of it already, and what the old one carried. Raises Refusal, writing nothing, where nobody does, while the
    period has not ended, and while a finding keeps it from payroll unless told to go on `despite` it; the note then
    lists each.
    """
    author = author.strip()
    if not author:
        raise Refusal(told("a period is handed off by somebody; say who."))
    _refuse_unsound(workspace)
    of, today = reckoning.snapshot, find_today(reckoning, period_day, charts=False)
    period = today.period
    before = closed_period(reckoning, period.first, period.last)
    refuse_twice(before, period, replace_why)
    refuse_replaced(of, before, author, replace_why)
    blockers = _blockers(today, is_replacing=before is not None)
    refuse_unready(today, blockers, despite=despite)
    carried = _carried(reckoning, before, period.first)
    lines, beside = _lines(reckoning, before, carried, period)
    tables, sources = payroll_tables(reckoning, today, beside, may_be_empty=before is not None), _digest(of, today)
    money = money_told(tables, [one.name for one in of.settings.policy.differentials])
    written_before = of.handoffs.filter(pl.col("first_day") == period.first, pl.col("last_day") == period.last).height
    stem = f"hours-{period.first}-to-{period.last}" + (f"-{written_before + 1}" if written_before else "")
    made = HandedOff(
        period.first,
        period.last,
        tuple(_file(workspace.handoff, stem, table) for table in tables),
        workspace.handoff / f"{stem}-note.txt",
        sources,
        tuple(finding.key for finding in blockers),
        replaces=before.file if before else "",
        reason=(replace_why or "").strip(),
        changes=changes_if_replaced(reckoning, before) if before else (),
        adjusts=tuple(_as_carried(of, carried)),
    )
    signed = period_signed(reckoning, period.first)
    written = {made.note.name: note_of(of, today, made, tables, blockers, signed, author, as_of).encode()}
    for file, table in zip(made.files, tables, strict=True):
        text, sheet = pay.as_text_file(table), pay.as_workbook(table.headers, table.cells)
        written |= {file.csv.name: text, file.xlsx.name: sheet}
    with workspace.sources.held():
        put_in_place(workspace.store, workspace.handoff)
        with handing(workspace.store, workspace.handoff, written) as conn:
            decisions.decide_alone(conn)
            refuse_overtaken(conn, reckoning)
            number = add_handoff(
                conn,
                pay.told_in(lines, money),
                period=(period.first, period.last),
                file=made.csv.name,
                digest=sources,
                totals=json.dumps(made.totals),
                despite=json.dumps(made.despite),
                author=author,
                made_at=int(as_of.timestamp()),
                files={name: digest_of(content) for name, content in written.items()},
                money=money,
                figures=pl.concat([table.printed for table in tables]),
                replaces=before.handoff if before else None,
                reason=made.reason,
                carries=[one.adjustment for one in made.adjusts],
            )
    return replace(made, number=number)


def foresee_files(reckoning: Reckoning, today: Today) -> FilesForeseen:
    """Return what files written now would hold, with the adjustments that wait; Refusal as `hand_off`."""
    period = today.period

    def make() -> FilesForeseen:
        before = closed_period(reckoning, period.first, period.last)
        carried = _carried(reckoning, before, period.first)
        _, beside = _lines(reckoning, before, carried, period)
        tables = payroll_tables(reckoning, today, beside, may_be_empty=before is not None)
        return FilesForeseen(tables, tuple(_as_carried(reckoning.snapshot, carried)), beside.of_period)

    return reckoning.part(("payroll tables", period), make)


def settle_closed(
    workspace: Workspace,
    reckoning: Reckoning,
    day: date,
    *,
    way: str = "",
    people: Sequence[str] = (),
    seen: str = "",
    despite: bool = False,
    author: str,
    reason: str,
    as_of: datetime,
) -> HandedOff | Adjusted:
    """Make good what changed in the closed period that holds `day`: by a file that replaces its, or an adjustment.

    `way` is `replace`, `adjust` (the next period's file carries it) or `elsewhere` (outside of payroll's files); it is
    the usual one where it is empty. The rest is as `adjust` and `hand_off` have it; a file replaces the whole period.
    """
    way = way or usual_way(reckoning, day, people)
    if way not in ("replace", "adjust", "elsewhere"):
        raise Refusal(told('what changed is made good by "replace", "adjust" or "elsewhere", not "{way}".', way=way))
    if way != "replace":
        how: Way = "elsewhere" if way == "elsewhere" else "next_file"
        return adjust(
            workspace, reckoning, day, people=people, way=how, seen=seen, author=author, reason=reason, as_of=as_of
        )
    if people:
        raise Refusal(
            told("a file replaces that of the whole period; name people only where the next file is to carry it.")
        )
    if not reason.strip():
        raise Refusal(told("a file is replaced for a reason; give it."))
    refuse_unseen(reckoning, day, seen)
    return hand_off(
        workspace, reckoning, as_of=as_of, period_day=day, author=author, despite=despite, replace_why=reason
    )


def _blockers(today: Today, *, is_replacing: bool) -> list[Finding]:
    """Return what keeps the period from payroll; where a file is replaced, not what changed in closed periods."""
    return [one for one in today.blockers if not (is_replacing and one.code == CLOSED)]


def _carried(reckoning: Reckoning, before: ClosedPeriod | None, first: date) -> Frame:
    """Return the adjustments (HANDED_OFF_LINES) that the file holds: those that wait, or those of the one before."""
    if before is None:
        return pending(reckoning, first)
    return reckoning.snapshot.handed_off_lines.filter(
        pl.col("carrier") == before.handoff, pl.col("adjustment").is_not_null()
    )


def _lines(
    reckoning: Reckoning, before: ClosedPeriod | None, carried: Frame, period: Period
) -> tuple[Frame, ToldBeside]:
    """Return what the file tells of its own period (HANDED_OFF), and what other files tell beside it."""
    others = told_of(reckoning, period.first, period.last, leave_out=before.handoff if before else None)
    owed = owed_of(reckoning, period.first, period.last)
    adjusts = carried.select(HANDED_OFF.names)
    weeks = adjusts.select("person", "workweek").unique()
    of_weeks = reckoning.snapshot.handed_off_lines.join(weeks, on=["person", "workweek"], how="semi")
    told = of_weeks.join(carried.select("adjustment").unique(), on="adjustment", how="anti")
    return pay.taken_from(owed, others), ToldBeside(others, pay.net(adjusts), told, reckoning.snapshot.printed_figures)


def _as_carried(of: Snapshot, carried: Frame) -> Iterator[AdjustmentCarried]:
    for row in of.adjustments.join(carried.select("adjustment").unique(), on="adjustment", how="semi").iter_rows(
        named=True
    ):
        people = changes_of_lines(carried.filter(pl.col("adjustment") == row["adjustment"]), of.names)
        yield AdjustmentCarried(
            row["adjustment"], row["first_day"], row["last_day"], row["author"], row["reason"], people
        )


def _refuse_unsound(workspace: Workspace) -> None:
    """Raise Refusal where the store is damaged, or does not hold what takes brought or payroll was told."""
    with workspace.store.reading() as conn:
        check_database(conn, workspace.store.where)
        check_takes(conn, workspace.store.where)
        check_told(conn, workspace.store.where)


def _file(folder: Path, stem: str, table: pay.PayrollTable) -> FileForPayroll:
    name = table.definition.name
    stem = f"{stem}-{name}" if name else stem
    return FileForPayroll(name, folder / f"{stem}.csv", folder / f"{stem}.xlsx", table.total)


def _digest(of: Snapshot, today: Today) -> str:
    """The digest covers the punches the period's hours rest on, their people, the corrections and the settings.

    Punches of other periods are left out, so that what arrives later does not change it.
    """
    hours = today.hours
    used = pl.concat([hours.classed["punch_in"], hours.classed["punch_out"], hours.questions["punch"]]).unique()
    who = hours.weeks["person"].unique()
    return pay.digest(
        {
            "punches": hours.attributed.filter(pl.col("punch").is_in(used.implode())),
            "weeks": hours.weeks,
            "people": today.people.filter(pl.col("person").is_in(who.implode())),
            "corrections": of.corrections.filter(pl.col("person").is_in(who.implode())),
            "premium_decisions": of.premium_decisions.filter(pl.col("person").is_in(who.implode())),
            "rates": of.rates.filter(pl.col("person").is_in(who.implode())),
            "earnings": of.earnings.filter(
                pl.col("person").is_in(who.implode()), pl.col("earned_from") <= today.period.last
            ),
        },
        of.settings_text,
    )
