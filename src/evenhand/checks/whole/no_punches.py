"""Somebody who was to come left no punch.

Silence would leave a day's pay out where a reader refused a hand or a supervisor forgot; a cry over a day off costs one
answer. Only people who are scheduled, or come on nearly all such days, are asked about, and a run of days once.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_day, as_span_of_days, counted

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


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and run of days."""
    for row in facts.gaps.filter(pl.col("kind") == "person_days").iter_rows(named=True):
        yield Finding(
            code=CHECK.code,
            subject=f"{row['person']}/{row['until']}",
            day=row["day"],
            person=row["person"],
            says=f"{call(facts, row['person'])} left no punch {_when(row)}.",
            evidence=(_why(row),),
            stake=Stake(minutes=DAY_MIN * row["days"], people=1, deadline=deadline(facts)),
            next_step="Ask whether they worked: add the punches on Hours, or settle this as absent, with the reason.",
            blocks_pay=True,
            details={"site": row["site"], "until": row["until"].isoformat(), "days": row["days"]},
        )


def _when(row: dict[str, Any]) -> str:
    if row["days"] == 1:
        return f"on {as_day(row['day'])}"
    return f"on {counted(row['days'], 'day')} they were to work, {as_span_of_days(row['day'], row['until'])}"


def _why(row: dict[str, Any]) -> str:
    if row["evidence"] == "scheduled":
        return "A shift is scheduled for them then, and no leave is on file."
    return f"They worked on {row['usual']} of {counted(row['weeks'], 'such day')} before, and no leave is on file."
