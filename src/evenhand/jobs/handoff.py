"""Hand a closed pay period to payroll: the file in two forms, and a note that lets it be checked and defended."""

from __future__ import annotations

import io
import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path

import polars as pl

from evenhand import pay
from evenhand.jobs.pay import asks_for_money
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.today import Today, find_today
from evenhand.jobs.workspace import Workspace
from evenhand.pay import FIELDS, Cell
from evenhand.store import decisions, frames
from evenhand.store.handed_off import add_handoff
from evenhand.store.handing import digest_of, handing, put_in_place
from evenhand.store.soundness import check_database, check_takes
from evenhand.terms import cautions
from evenhand.terms.csv_text import MARK, as_csv
from evenhand.terms.records import Refusal
from evenhand.terms.words import as_zoned_moment, rules_in_words

__all__ = ["HandedOff", "hand_off"]


@dataclass(frozen=True)
class HandedOff:
    """The files written for one period, their control total and the digest of what they were computed from."""

    first: date
    last: date
    csv: Path
    xlsx: Path
    note: Path
    total: pay.ControlTotal
    digest: str
    despite: tuple[str, ...]


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
    columns = pay.handoff_columns(of.settings.handoff_columns)
    rows = _rows(reckoning, today, columns)
    total, sources = pay.control_total(rows, columns), _digest(of, today)
    headers = [header for header, _ in columns]
    cells = [[FIELDS[field][1](row) for _, field in columns] for row in rows]
    stem = f"hours-{period.first}-to-{period.last}"
    made = HandedOff(
        period.first,
        period.last,
        workspace.handoff / f"{stem}.csv",
        workspace.handoff / f"{stem}.xlsx",
        workspace.handoff / f"{stem}-note.txt",
        total,
        sources,
        tuple(finding.key for finding in today.blockers),
    )
    written = {
        made.csv.name: _csv(headers, cells),
        made.xlsx.name: _xlsx(headers, cells),
        made.note.name: _note(of, today, made, author, as_of).encode(),
    }
    with workspace.sources.held():
        put_in_place(workspace.store, workspace.handoff)
        with handing(workspace.store, workspace.handoff, written) as conn:
            decisions.decide_alone(conn)
            if frames.revision(conn).changed_since(of.revision):
                raise Refusal(
                    "something was taken or decided while the files were made; nothing was written: look again."
                )
            add_handoff(
                conn,
                None,
                period=(period.first, period.last),
                file=made.csv.name,
                digest=sources,
                totals=json.dumps({name: str(value) for name, value in vars(total).items()}),
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


def _rows(reckoning: Reckoning, today: Today, columns: Sequence[tuple[str, str]]) -> list[pay.HandoffRow]:
    """Return the rows of the file; raises Refusal where there are none, and where double time has no column."""
    first, last = today.period.first, today.period.last
    paid = reckoning.pay_between(first, last) if asks_for_money(reckoning.snapshot.settings) else None
    rows = pay.handoff_rows(
        today.hours.weeks,
        today.people,
        (first, last),
        by_week=any(field == "workweek" for _, field in columns),
        pay_weeks=paid.weeks if paid else None,
    )
    if not rows:
        raise Refusal(f"nobody has hours from {first} to {last}; take that period's punch logs first.")
    pay.check_double_time(columns, rows)
    return rows


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


def _csv(headers: Sequence[str], cells: Sequence[Sequence[Cell]]) -> bytes:
    return (MARK + as_csv(headers, cells)).encode()


def _xlsx(headers: Sequence[str], cells: Sequence[Sequence[Cell]]) -> bytes:
    import xlsxwriter

    content = io.BytesIO()
    # A name that begins with = is a name, not a formula.
    book = xlsxwriter.Workbook(content, {"strings_to_formulas": False, "strings_to_urls": False, "in_memory": True})
    bold = book.add_format({"bold": True})
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    amount = book.add_format({"num_format": "0.00"})
    sheet = book.add_worksheet("Hours")
    sheet.write_row(0, 0, headers, bold)
    sheet.freeze_panes(1, 0)
    for place, row in enumerate(cells, 1):
        for column, cell in enumerate(row):
            if isinstance(cell, date):
                sheet.write_datetime(place, column, datetime.combine(cell, datetime.min.time()), day)
            elif isinstance(cell, Decimal):
                sheet.write_number(place, column, float(cell), amount)
            elif isinstance(cell, int):
                sheet.write_number(place, column, cell)
            else:
                sheet.write_string(place, column, cell or "")  # text, so that leading zeros stay
    sheet.autofit()
    book.close()
    return content.getvalue()


def _note(of: Snapshot, today: Today, made: HandedOff, author: str, as_of: datetime) -> str:
    total = made.total
    lines = [
        f"{of.settings.workplace}: hours for payroll, {made.first} to {made.last}",
        f"Written {as_zoned_moment(as_of, today.zone)} by {author}",
        "",
        f"Files            {made.csv.name}, {made.xlsx.name} (the same rows)",
        f"Rows             {total.rows}",
        f"People           {total.people}",
        f"Ordinary hours   {total.printed_ordinary} as printed; {total.ordinary_s} seconds exactly",
        f"Overtime hours   {total.printed_overtime} as printed; {total.overtime_s} seconds exactly",
        f"Double time      {total.printed_double} as printed; {total.double_s} seconds exactly",
        *(f"{field.replace('_', ' ').capitalize():<16} {amount} in all rows" for field, amount in total.money),
        *_without_money(total),
        f"Sources          SHA-256 {made.digest}",
        "                 over the punches, weeks, roster, rates, earnings, corrections and settings the file was",
        "                 computed from",
        "",
        "Each row's hours are rounded once to two decimals, half up, from exact seconds.",
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


def _without_money(total: pay.ControlTotal) -> list[str]:
    if not total.rows_without_money:
        return []
    return [f"                 {total.rows_without_money} rows have no pay: a rate is missing; see `evenhand today`"]


def _rules_in_words(of: Snapshot) -> list[str]:
    return [f"{site or 'no site'}: {rules_in_words(rules)}" for site, rules in of.rules.items()]
