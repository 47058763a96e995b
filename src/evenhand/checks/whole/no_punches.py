"""Somebody who was to come left no punch.

Silence would leave a day's pay out where a reader refused a hand or a supervisor forgot; a cry over a day off costs one
answer. Only people who are scheduled, or come on nearly all such days, are asked about, and a run of days once.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_day, as_span_of_days, counted
from evenhand.terms.zones import civil_date

CHECK = Check(
    code="no_punches",
    title="Somebody left no punch on a day they were to work",
    why="A day without any punch looks like a day off, and is paid as one. Time worked is owed whether or not it was "
    "punched (29 CFR 785.11 to 785.13). Named are people who were scheduled, or, where nobody schedules them, worked "
    "on at least four of five such weekdays of up to six weeks before, and on three, of those on which somebody came "
    "to the site if somebody did on the day, else of all; not where leave is on file for the day.",
    next_step="Ask whether they worked: add the punches on Hours, take a file of leave, or settle this as absent.",
)
DAY_MIN = 8 * 60
"""What a day of work stands for where nothing of it is known (common practice, no source) [min]."""

NEXT = {
    "stray": "Decide on Strays whose those punches are; once they are theirs, this is answered by itself.",
    "not_enrolled": "Ask whether they worked, and have them enrolled at a reader of the site: add the punches on "
    "Hours, or settle this as absent, with the reason.",
    "scheduled": "Ask whether they worked: add the punches on Hours, or settle this as absent, with the reason.",
}
"""By what may be behind it: punches under another number, no enrolment at the site, or only that they were to come."""
ENROLLED = {"not_enrolled": ("No reader of the site has them enrolled, so that none could accept them.",)}


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and run of days."""
    missing = facts.gaps.filter(pl.col("kind") == "person_days")
    strays, not_enrolled = _strays(facts), set(facts.discrepancies_of("not_enrolled")["person"])
    for row in missing.iter_rows(named=True):
        theirs = [one for one, days in strays.get(row["person"], {}).items() if _within(row, days)]
        cause = "stray" if theirs else "not_enrolled" if row["person"] in not_enrolled else row["evidence"]
        yield Finding(
            code=CHECK.code,
            subject=f"{row['person']}/{row['until']}",
            day=row["day"],
            person=row["person"],
            says=f"{call(facts, row['person'])} left no punch {_when(row)}.",
            evidence=(_why(row), *(_may_be(reader, number) for reader, number in theirs), *ENROLLED.get(cause, ())),
            stake=Stake(minutes=DAY_MIN * row["days"], people=1, deadline=deadline(facts)),
            next_step=NEXT.get(cause, NEXT["scheduled"]),
            blocks_pay=True,
            details={"site": row["site"], "until": row["until"].isoformat(), "days": row["days"], "cause": cause},
        )


def _strays(facts: Facts) -> dict[str, dict[tuple[str, str], set[date]]]:
    """Return for each person the readers and numbers whose punches may be theirs, with the civil days they lie on."""
    meant = facts.discrepancies_of("unattributed_punches").drop_nulls("person").select("person", "reader", "number")
    found: dict[str, dict[tuple[str, str], set[date]]] = {}
    asked = meant.join(facts.unattributed.select("reader", "number", "at"), on=["reader", "number"])
    for person, reader, number, at in asked.iter_rows():
        day = civil_date(facts.reader_zones.get(reader, facts.zone), at)
        found.setdefault(person, {}).setdefault((reader, number), set()).add(day)
    return found


def _within(row: dict[str, Any], days: set[date]) -> bool:
    return any(row["day"] <= day <= row["until"] for day in days)


def _may_be(reader: str, number: str) -> str:
    return f"Punches under {number} at {reader} on these days belong to nobody, and may be theirs."


def _when(row: dict[str, Any]) -> str:
    if row["days"] == 1:
        return f"on {as_day(row['day'])}"
    return f"on {counted(row['days'], 'day')} they were to work, {as_span_of_days(row['day'], row['until'])}"


def _why(row: dict[str, Any]) -> str:
    if row["evidence"] == "scheduled":
        return "A shift is scheduled for them then, and no leave is on file."
    return f"They worked on {row['usual']} of {counted(row['weeks'], 'such day')} before, and no leave is on file."
