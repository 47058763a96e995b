"""The note beside the files for payroll, by which they can be checked and defended."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any

import polars as pl

from evenhand import law, pay
from evenhand.jobs.hours import workweek_of
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.today import Today
from evenhand.terms import cautions
from evenhand.terms.closing import PersonChange, change_in_short, changes_in_words
from evenhand.terms.correction_rules import rule_of
from evenhand.terms.payroll import ON_EARNINGS
from evenhand.terms.records import Finding
from evenhand.terms.rules_told import rules_in_words
from evenhand.terms.words import as_zoned_moment, called
from evenhand.terms.zones import civil_date

if TYPE_CHECKING:
    from evenhand.jobs.handoff import FileForPayroll, HandedOff
    from evenhand.jobs.signed_period import PeriodSigned

__all__ = ["note_of"]


def note_of(
    of: Snapshot,
    today: Today,
    made: HandedOff,
    tables: Sequence[pay.PayrollTable],
    blockers: Sequence[Finding],
    signed: PeriodSigned,
    author: str,
    as_of: datetime,
) -> str:
    """Return the note beside the files of a hand-off, which `blockers` did not keep from payroll.

    `signed` is how far its hours were signed then.
    """
    lines = [
        f"{of.settings.workplace}: hours for payroll, {made.first} to {made.last}",
        f"Written {as_zoned_moment(as_of, today.zone)} by {author}",
        *(line for file, table in zip(made.files, tables, strict=True) for line in _of_file(file, table)),
        *_replacing(made),
        *_adjusting(made),
        "",
        f"Sources          SHA-256 {made.digest}",
        "                 over the punches, weeks, roster, rates, earnings, corrections and settings the file was",
        "                 computed from",
        *_head(of),
        "",
        "Each figure is rounded once, half up, from exact seconds or from the cents of its pay lines; a total is the",
        "sum of the figures as printed, so that the file adds up to it.",
        "Hours are paid under:",
        *(f"  {line}" for line in _rules_in_words(of, made.first, made.last)),
        "",
    ]
    if made.despite:
        lines += [f"Written despite {len(made.despite)} open findings:"]
        lines += [f"  {finding.says}  [{finding.key}]" for finding in blockers]
    else:
        lines += ["No open finding keeps this period from payroll."]
    lines += _on_salary(of, today, tables)
    lines += _premiums_decided(of, today)
    lines += _under_a_rule(of, today, made)
    in_period = today.settled.filter(pl.col("finding").str.contains("/"))
    if in_period.height:
        lines += ["", "Settled findings, all periods:"]
        lines += [f"  {row['finding']}: {row['reason']} ({row['author']})" for row in in_period.iter_rows(named=True)]
    said = [*textwrap.wrap(signed.says, 110), *textwrap.wrap(cautions.SIGNED, 110)]
    return "\n".join([*lines, "", *said, "", cautions.OF_HANDOFF, ""])


def _head(of: Snapshot) -> Iterator[str]:
    """Yield the ledger's head; the file's own entry, which holds the digest of this note, comes after it."""
    size, _, root = of.head.partition(": ")
    yield f"Ledger's head    {size}:"
    yield from (f"                 {line}" for line in textwrap.wrap(root, 40))
    yield "                 as it was before these files were written. Held by whoever does not look after the store,"
    yield "                 it shows with `evenhand ledger verify --head` that nothing from before was altered since."
    yield "                 The files and this note are told of by an entry that follows: verify them with --file."


def _on_salary(of: Snapshot, today: Today, tables: Sequence[pay.PayrollTable]) -> Iterator[str]:
    """Yield who is on a salary that the files do not tell: without hours, or by hours alone.

    What part of a week pays, hours beyond those covered, and the half that overtime of a fluctuating week owes do not
    follow from hours. Source: 29 CFR 778.113, 778.114.
    """
    first, last = today.period.first, today.period.last
    weeks = (first + timedelta(days=days) for days in range(0, (last - first).days + 1, 7))
    salaried = {who for week in weeks for who in pay.salaried_people(of.rates, of.people, week)}
    worked = set(today.hours.weeks["person"])
    if absent := sorted(salaried - worked):
        yield from ("", "On a salary and without hours, so without a row; whether it is owed is payroll's to say:")
        yield from (f"  {called(of.names.get(who, ''), who)}" for who in absent)
    told = [set(table.definition.fields) & {"base_pay", "straight_pay", "total_pay"} for table in tables]
    if (present := sorted(salaried & worked)) and not all(told):
        yield from ("", "On a salary, which hours alone do not tell; columns of base_pay and overtime_premium would:")
        yield from (f"  {called(of.names.get(who, ''), who)}" for who in present)


def _premiums_decided(of: Snapshot, today: Today) -> Iterator[str]:
    """Yield which premium hours of the period's workweeks were struck or entered, by whom and why."""
    said = law.standing_decisions(of.premium_decisions).join(
        today.hours.weeks.select("person", "workweek"), on="person"
    )
    said = said.filter((pl.col("workday") - pl.col("workweek")).dt.total_days().is_between(0, 6))
    if said.height:
        yield from ("", "Premium hours that were decided about:")
    for row in said.sort("workday", "person", "kind").iter_rows(named=True):
        what = "struck" if row["action"] == "strike" else f"{row['hours'].normalize():f} h owed"
        kind = row["kind"].replace("_", " ")
        yield f"  {row['person']}, {row['workday']}, {kind}: {what}: {row['reason']} ({row['author']})"
    lost = _owed_in_no_week(of, today)
    if lost:
        yield from ("", "Premium hours that were entered and are NOT in the file, since nothing is left of what was")
        yield "worked in their week; correct the punches, or say that they are as the record has them:"
    for row in lost:
        kind, hours = row["kind"].replace("_", " "), row["hours"].normalize()
        yield f"  {row['person']}, {row['workday']}, {kind}: {hours:f} h owed: {row['reason']} ({row['author']})"


def _owed_in_no_week(of: Snapshot, today: Today) -> list[dict[str, Any]]:
    """Return what was entered (PREMIUM_DECISIONS) for workweeks of the period in which nothing was worked."""
    worked = set(today.hours.weeks.select("person", "workweek").iter_rows())
    sites = dict(of.people.select("person", "site").iter_rows())
    entered = law.standing_decisions(of.premium_decisions).filter(pl.col("action") == "owe")
    lost = []
    for row in entered.sort("workday", "person", "kind").iter_rows(named=True):
        week = workweek_of(of.rules_of(sites.get(row["person"])), row["workday"])
        if today.period.first <= week <= today.period.last and (row["person"], week) not in worked:
            lost.append(row)
    return lost


def _under_a_rule(of: Snapshot, today: Today, made: HandedOff) -> Iterator[str]:
    """Yield the corrections of the period that rest on a rule, which the punches alone cannot show."""
    said = of.standing_corrections.join(of.recorded.select("punch", punched="at"), on="punch", how="left")
    said = said.with_columns(pl.col("at").fill_null(pl.col("punched"))).drop_nulls("at").sort("at", "correction")
    rows = [
        (day, row)
        for row in said.iter_rows(named=True)
        if rule_of(row["reason"]) and made.first <= (day := civil_date(today.zone, row["at"])) <= made.last
    ]
    if rows:
        yield from ("", "Corrections that rest on a rule:")
    for day, row in rows:
        yield f"  {row['person']}, {day}: {row['reason']} ({row['author']})"


def _replacing(made: HandedOff) -> Iterator[str]:
    """Yield which file this one replaces, why, and in what they differ, person by person."""
    if not made.replaces:
        return
    yield from ("", f"Replaces         {made.replaces}, which counts no longer: {made.reason}")
    yield from _changed(made.changes, "In the old file and the new one everybody has the same.")


def _adjusting(made: HandedOff) -> Iterator[str]:
    """Yield the adjustments of earlier periods that the file carries, in rows of their own."""
    for one in made.adjusts:
        yield from ("", f"Adjusts          {one.first} to {one.last}: {one.reason} ({one.author})")
        yield from _changed(one.changes, "Nobody's time or pay.")
    if any(day.item.startswith(ON_EARNINGS) for one in made.adjusts for who in one.changes for day in who.days):
        yield "  What overtime and premium hours owe on what was earned beside the hours is in money in these rows:"
        yield "  pay their hours at the rate of the work, and work none out on it again (29 CFR 778.209)."


def _changed(changes: Sequence[PersonChange], none: str) -> Iterator[str]:
    if not changes:
        yield f"  {none}"
    for one in changes:
        yield f"  {called(one.name, one.person)}: {change_in_short(one)}"
        yield from (f"    {line}" for line in changes_in_words(one))


def _of_file(file: FileForPayroll, table: pay.PayrollTable) -> list[str]:
    """Return what the note says of one file: its control total, column by column."""
    total = file.total
    by_code = bool(table.definition.codes)
    names = [f"{one.header} {one.field}" if by_code else one.header for one in total.columns]
    wide = max(map(len, (*names, "Worked, together"))) + 2
    lines = ["", f"Files            {file.csv.name}, {file.xlsx.name} (the same rows)"]
    lines += [f"Rows             {total.rows}", f"People           {total.people}"]
    for name, one in zip(names, total.columns, strict=True):
        exactly = f"; {one.exact} seconds exactly" if one.is_time else ""
        empty = f"; {one.unknown} rows are empty, since pay is not known: see `evenhand today`" if one.unknown else ""
        lines.append(f"  {name:<{wide}}{one.as_printed} as printed{exactly}{empty}")
    if total.worked is not None:
        lines.append(f"  {'Worked, together':<{wide}}{total.worked} as printed")
    if total.money is not None:
        lines.append(f"  {'Money, together':<{wide}}{total.money} as printed")
    if table.paid_once:
        lines += textwrap.wrap(table.paid_once, 110, initial_indent="  ", subsequent_indent="  ")
    if led := pay.changed_cells(table):
        lines.append(f"  {led} texts begin with an apostrophe, so that no spreadsheet runs them")
    return lines


def _rules_in_words(of: Snapshot, first: date, last: date) -> Iterator[str]:
    """Yield the rules of each site in the workweeks of the period, with their day where they change within it."""
    for site, rules in of.rules.items():
        in_force = rules.between(first, last)
        for day, one in in_force:
            since = f", from {day}" if len(in_force) > 1 else ""
            yield f"{site or 'no site'}{since}: {rules_in_words(one)}"
