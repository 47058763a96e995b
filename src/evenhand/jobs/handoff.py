"""Hand a closed pay period to payroll: the file in two forms, and a note that lets it be checked and defended."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

import polars as pl

from evenhand import pay
from evenhand.jobs.pay import asks_for_money
from evenhand.jobs.payroll_tables import payroll_tables
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.today import Today, find_today
from evenhand.jobs.workspace import Workspace
from evenhand.pay import ControlTotal
from evenhand.store import decisions
from evenhand.store.handed_off import add_handoff
from evenhand.store.handing import digest_of, handing, put_in_place
from evenhand.store.revision import revision
from evenhand.store.soundness import check_database, check_takes
from evenhand.terms import cautions
from evenhand.terms.json_form import as_json_value
from evenhand.terms.records import Refusal
from evenhand.terms.words import as_zoned_moment, rules_in_words

__all__ = ["FileForPayroll", "HandedOff", "hand_off"]


@dataclass(frozen=True)
class FileForPayroll:
    """The file of one payroll, in two forms, with its control total; `payroll` is empty where there is but one."""

    payroll: str
    csv: Path
    xlsx: Path
    total: ControlTotal


@dataclass(frozen=True)
class HandedOff:
    """The files written for one period and their note, and the digest of what they were computed from."""

    first: date
    last: date
    files: tuple[FileForPayroll, ...]
    note: Path
    digest: str
    despite: tuple[str, ...]

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
) -> HandedOff:
    """Write the period's files and keep a record of them, with who handed it off.

    Raises Refusal, writing nothing, where nobody does, while the period has not ended, and while a finding keeps it
    from payroll unless told to go on `despite` it; the note then lists each.
    """
    author = author.strip()
    if not author:
        raise Refusal("a period is handed off by somebody; say who with --author.")
    _refuse_unsound(workspace)
    of, today = reckoning.snapshot, find_today(reckoning, period_day, charts=False)
    _refuse_unready(today, despite=despite)
    period = today.period
    tables, sources = payroll_tables(reckoning, today), _digest(of, today)
    stem = f"hours-{period.first}-to-{period.last}"
    made = HandedOff(
        period.first,
        period.last,
        tuple(_file(workspace.handoff, stem, table) for table in tables),
        workspace.handoff / f"{stem}-note.txt",
        sources,
        tuple(finding.key for finding in today.blockers),
    )
    written = {made.note.name: _note(of, today, made, tables, author, as_of).encode()}
    for file, table in zip(made.files, tables, strict=True):
        text, sheet = pay.as_text_file(table), pay.as_workbook(table.headers, table.cells)
        written |= {file.csv.name: text, file.xlsx.name: sheet}
    with workspace.sources.held():
        put_in_place(workspace.store, workspace.handoff)
        with handing(workspace.store, workspace.handoff, written) as conn:
            decisions.decide_alone(conn)
            if revision(conn).changed_since(of.revision):
                raise Refusal(
                    "something was taken or decided while the files were made; nothing was written: look again."
                )
            add_handoff(
                conn,
                None,
                period=(period.first, period.last),
                file=made.csv.name,
                digest=sources,
                totals=json.dumps(made.totals),
                despite=json.dumps(made.despite),
                author=author,
                made_at=int(as_of.timestamp()),
                files={name: digest_of(content) for name, content in written.items()},
                in_money=asks_for_money(of.settings),
            )
    return made


def _refuse_unsound(workspace: Workspace) -> None:
    """Raise Refusal where the store is damaged, or does not hold what its takes say they brought."""
    with workspace.store.reading() as conn:
        check_database(conn, workspace.store.where)
        check_takes(conn, workspace.store.where)


def _refuse_unready(today: Today, *, despite: bool) -> None:
    period, blockers = today.period, today.blockers
    if not today.has_ended:
        raise Refusal(
            f"the period {period.first} to {period.last} has not ended, the last workweek that begins in it ends on "
            f"{as_zoned_moment(today.ends, today.zone)}; hand it off after that."
        )
    if blockers and not despite:
        raise Refusal(
            f"{len(blockers)} findings keep {period.first} to {period.last} from payroll, the first: "
            f"{blockers[0].says} See `evenhand today`; settle or correct them, or write it with --despite-findings."
        )
    today.hours.refuse_failing()


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
            "rates": of.rates.filter(pl.col("person").is_in(who.implode())),
            "earnings": of.earnings.filter(
                pl.col("person").is_in(who.implode()), pl.col("earned_from") <= today.period.last
            ),
        },
        of.settings_text,
    )


def _note(
    of: Snapshot, today: Today, made: HandedOff, tables: Iterable[pay.PayrollTable], author: str, as_of: datetime
) -> str:
    lines = [
        f"{of.settings.workplace}: hours for payroll, {made.first} to {made.last}",
        f"Written {as_zoned_moment(as_of, today.zone)} by {author}",
        *(line for file, table in zip(made.files, tables, strict=True) for line in _of_file(file, table)),
        "",
        f"Sources          SHA-256 {made.digest}",
        "                 over the punches, weeks, roster, rates, earnings, corrections and settings the file was",
        "                 computed from",
        "",
        "Each figure is rounded once, half up, from exact seconds or from the cents of its pay lines; a total is the",
        "sum of the figures as printed, so that the file adds up to it.",
        "Hours are paid under:",
        *(f"  {line}" for line in _rules_in_words(of)),
        "",
    ]
    if made.despite:
        lines += [f"Written despite {len(made.despite)} open findings:"]
        lines += [f"  {finding.says}  [{finding.key}]" for finding in today.blockers]
    else:
        lines += ["No open finding keeps this period from payroll."]
    in_period = today.settled.filter(pl.col("finding").str.contains("/"))
    if in_period.height:
        lines += ["", "Settled findings, all periods:"]
        lines += [f"  {row['finding']}: {row['reason']} ({row['author']})" for row in in_period.iter_rows(named=True)]
    return "\n".join([*lines, "", cautions.HANDED_OFF, ""])


def _of_file(file: FileForPayroll, table: pay.PayrollTable) -> list[str]:
    """Return what the note says of one file: its control total, column by column."""
    total = file.total
    wide = max(len(name) for name in (*(one.header for one in total.columns), "Worked, together")) + 2
    lines = ["", f"Files            {file.csv.name}, {file.xlsx.name} (the same rows)"]
    lines += [f"Rows             {total.rows}", f"People           {total.people}"]
    for one in total.columns:
        exactly = f"; {one.exact} seconds exactly" if one.is_time else ""
        empty = f"; {one.unknown} rows are empty, since pay is not known: see `evenhand today`" if one.unknown else ""
        lines.append(f"  {one.header:<{wide}}{one.as_printed} as printed{exactly}{empty}")
    if total.worked is not None:
        lines.append(f"  {'Worked, together':<{wide}}{total.worked} as printed")
    if total.money is not None:
        lines.append(f"  {'Money, together':<{wide}}{total.money} as printed")
    if led := pay.changed_cells(table):
        lines.append(f"  {led} texts begin with an apostrophe, so that no spreadsheet runs them")
    return lines


def _rules_in_words(of: Snapshot) -> list[str]:
    return [f"{site or 'no site'}: {rules_in_words(rules)}" for site, rules in of.rules.items()]
