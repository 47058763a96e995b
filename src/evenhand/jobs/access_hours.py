"""The parts of an access report that are worked out: presentations, hours with their reasons, pay, what was told."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.jobs.access_rows import ORIGIN, Whose, origin_of, told
from evenhand.jobs.closed import zones_of_people
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import hours_as_they_follow
from evenhand.jobs.statement_words import rule_in_words
from evenhand.jobs.today import find_today
from evenhand.records.access import AccessPart
from evenhand.store.database import Connection
from evenhand.store.handed_off import figures_told, lines_told
from evenhand.terms.civil_days import civil_days
from evenhand.terms.closing import item_in_words
from evenhand.terms.columns import Column, Frame
from evenhand.terms.handed_off import HANDED_OFF, PRINTED
from evenhand.terms.languages import Speech, sentence
from evenhand.terms.rules_told import cited
from evenhand.terms.tables import PUNCH_SHIFT, RECORDED
from evenhand.terms.wages import PAY_LINES
from evenhand.terms.words import as_figures, signed_figures

__all__ = ["worked_out"]

COUNTED = Column("counted", "text", "Whose it counts as", required=True)
COUNTS = {
    "added": sentence("yours, added by a correction"),
    "refused": sentence("refused, so that it counts for nobody"),
    "other": sentence("not yours: left out, or counted as somebody else's"),
}


def worked_out(conn: Connection, reckoning: Reckoning, whose: Whose) -> Iterator[AccessPart]:
    """Yield what is worked out of the person's punches, and what payroll was told of them."""
    yield _presentations(reckoning, whose)
    yield _days(reckoning, whose)
    yield _pay(reckoning, whose)
    yield _handed_off(conn, reckoning, whose)
    yield _printed(conn, reckoning, whose)
    yield _findings(reckoning, whose)


def _presentations(reckoning: Reckoning, whose: Whose) -> AccessPart:
    """Every presentation under a number that was the person's then, and every punch that counts as theirs."""
    of, mine = reckoning.snapshot, pl.col("person") == whose.person
    given = reckoning.attribution.attributed.filter(mine)
    theirs = set(given["punch"])
    recorded = of.recorded.with_columns(held=pl.Series(reckoning.holders).cast(pl.String) == whose.person)
    rows = recorded.filter(pl.col("held").fill_null(value=False) | pl.col("punch").is_in(list(theirs)))
    added = given.filter(pl.col("punch") < 0).select("punch", "reader", "at", "direction")
    columns = (*(one for one in RECORDED.columns if one.name != "punch"), COUNTED, ORIGIN)
    made = [
        _presentation(row, theirs, whose, columns)
        for row in pl.concat([rows, added], how="diagonal").sort("at").rows(named=True)
    ]
    return AccessPart(
        "punches",
        sentence("Every time a hand was laid down for you"),
        columns,
        tuple(made),
        sentence(
            "A score tells how far the hand lay from its enrolment; a high one says that reader or hand changed, and "
            "nothing about you."
        ),
    )


def _presentation(row: dict[str, Any], theirs: set[int], whose: Whose, columns: tuple[Column, ...]) -> dict[str, Any]:
    origin = "" if row["punch"] < 0 else origin_of(row["punch"] >> PUNCH_SHIFT, whose)
    if row["punch"] in theirs and row["punch"] >= 0:
        counted = whose.say.meaning("a punch", "yours")
    else:
        counted = whose.say(
            COUNTS["added" if row["punch"] < 0 else "refused" if row["outcome"] == "refused" else "other"]
        )
    values = {one.name: told(one, row.get(one.name), whose) for one in columns if one not in (COUNTED, ORIGIN)}
    if row["number"] and whose.blanks.is_anothers(row["number"]):
        counted = whose.say("{counted}, given to you by a correction", counted=counted)
    return {**values, "counted": counted, "origin": origin}


def _days(reckoning: Reckoning, whose: Whose) -> AccessPart:
    """The person's hours day by day, with what rules did to them in short."""
    person, of, say = whose.person, reckoning.snapshot, whose.say
    hours = reckoning.person_hours(person)
    by_day: dict[Any, list[str]] = {}
    for (day, item), seconds in hours_as_they_follow(reckoning, hours).items():
        by_day.setdefault(day, []).append(f"{say.written(item_in_words(item))} {as_figures(seconds)}")
    why = _why(hours.steps, zones_of_people(reckoning).get(person, of.zone), say)
    columns = (
        Column("day", "date", "The civil day", required=True),
        Column("period", "text", "The pay period it is paid in"),
        Column("hours", "text", "Paid time by class, differentials and premium hours [h:mm]"),
        Column("why", "text", "What rules gave and took, each with its citation"),
    )
    rows = [
        {
            "day": day,
            "period": say("{first} to {last}", first=reckoning.period(day).first, last=reckoning.period(day).last),
            "hours": ", ".join(by_day.get(day, [])),
            "why": "; ".join(why.get(day, [say("as recorded")])),
        }
        for day in sorted({*by_day, *why})
    ]
    return AccessPart(
        "hours",
        sentence("Your hours, and why"),
        columns,
        tuple(rows),
        hours.says_failing if hours.failing.height else "",
    )


def _why(steps: Frame, zone: str, say: Speech) -> dict[Any, list[str]]:
    if steps.is_empty():
        return {}
    days = civil_days(steps["starts"], pl.repeat(zone, steps.height, eager=True))
    by_rule = (
        steps.with_columns(day=days)
        .group_by("day", "rule", "cites", maintain_order=True)
        .agg(pl.col("seconds").sum(), moved=(pl.col("to_class").is_not_null()).any())
        .sort("day", "rule")
    )
    said: dict[Any, list[str]] = {}
    for row in by_rule.iter_rows(named=True):
        change = signed_figures(row["seconds"]) or (say("class of time") if row["moved"] else say("noted"))
        told_of = f"{rule_in_words(row['rule'], say)} {change} ({cited(row['cites'], say)})"
        said.setdefault(row["day"], []).append(told_of)
    return said


def _pay(reckoning: Reckoning, whose: Whose) -> AccessPart:
    hours = reckoning.person_hours(whose.person)
    columns = tuple(one for one in PAY_LINES.columns if one.name not in ("person", "line", "part", "item"))
    rows: tuple[dict[str, Any], ...] = ()
    if hours.weeks.height:
        first, last = hours.weeks["workweek"].min(), hours.weeks["workweek"].max()
        lines = reckoning.pay_of(whose.person, first, last).lines  # type: ignore[arg-type]
        rows = tuple(
            {one.name: told(one, row[one.name], whose) for one in columns} for row in lines.iter_rows(named=True)
        )
    return AccessPart(
        "pay", sentence("Your pay, line by line"), columns, rows, sentence("Taxes and deductions are not in it.")
    )


def _handed_off(conn: Connection, reckoning: Reckoning, whose: Whose) -> AccessPart:
    """Every line about the person in any file for payroll, also of files that were replaced, and in adjustments."""
    of = reckoning.snapshot
    files = dict(of.handoffs.select("handoff", "file").iter_rows())
    periods = dict(of.adjustments.select("adjustment", "first_day").iter_rows())
    columns = (Column("told", "text", "In which file, or by which adjustment"), *HANDED_OFF.columns[1:])
    rows = []
    for kind, names in (("handoff", files), ("adjustment", periods)):
        for number, lines in lines_told(conn, kind).items():
            where = (
                whose.say("file {file}", file=names[number])
                if kind == "handoff"
                else whose.say("adjustment {number}, of the period from {day}", number=number, day=names[number])
            )
            for row in lines.filter(pl.col("person").is_in(list(whose.identifiers))).iter_rows(named=True):
                rows.append({"told": where, **{one.name: told(one, row[one.name], whose) for one in columns[1:]}})
    return AccessPart("handoffs", sentence("What payroll was told of you"), columns, tuple(rows))


def _printed(conn: Connection, reckoning: Reckoning, whose: Whose) -> AccessPart:
    """The figures of time that files for payroll printed in rows of the person."""
    files = dict(reckoning.snapshot.handoffs.select("handoff", "file").iter_rows())
    columns = (Column("told", "text", "In which file"), *PRINTED.columns[1:])
    rows = [
        {
            "told": whose.say("file {file}", file=files[number]),
            **{one.name: told(one, row[one.name], whose) for one in columns[1:]},
        }
        for number, figures in figures_told(conn).items()
        for row in figures.filter(pl.col("person").is_in(list(whose.identifiers))).iter_rows(named=True)
    ]
    return AccessPart("handoff_figures", sentence("As the files for payroll printed it"), columns, tuple(rows))


def _findings(reckoning: Reckoning, whose: Whose) -> AccessPart:
    columns = (
        Column("finding", "text", "What it says", required=True),
        Column("evidence", "text", "What shows it"),
        Column("next_step", "text", "What is to be done"),
    )
    about = (
        one
        for one in find_today(reckoning, charts=False).findings
        if one.person == whose.person or whose.person in one.details.get("people", ())
    )
    blank, said = whose.blanks.text, whose.say.said
    rows = tuple(
        {
            "finding": blank(said(one.says), is_written=True),
            "evidence": blank(" ".join(map(said, one.evidence)), is_written=True),
            "next_step": blank(said(one.next_step), is_written=True),
        }
        for one in about
    )
    return AccessPart("findings", sentence("What evenhand finds now that concerns you"), columns, rows)
