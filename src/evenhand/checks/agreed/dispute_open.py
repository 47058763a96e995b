"""Somebody says that their record is wrong, and has no answer yet.

It never holds pay back: what is not disputed is due on its day (Cal. Lab. Code 206(a)), and what is can be added later.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_day, as_zoned_moment, counted

CHECK = Check(
    code="dispute_open",
    title="Disputed, and not answered yet",
    why="A person says that a line of their record is wrong. They are owed an answer by a day, and what they say is "
    "often how a wrong reader, rule or list is found. Asking about pay is protected (29 USC 215(a)(3)).",
    next_step="Look at the day with the person; correct it and accept, or say why it stands, on Sign-off.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per dispute that waits for an answer."""
    for row in facts.disputes.iter_rows(named=True):
        yield _finding(facts, row)


def _finding(facts: Facts, row: dict[str, Any]) -> Finding:
    whose, zone = call(facts, row["person"]), facts.zone_of(row["person"])
    about = f"{row['kind']}, {as_day(row['day'])}" if row["day"] else row["kind"]
    left = (row["answer_by"] - facts.today).days
    due = f"in {counted(left, 'day')}" if left > 0 else "today" if not left else f"{counted(-left, 'day')} ago"
    return Finding(
        code=CHECK.code,
        subject=str(row["dispute"]),
        person=row["person"],
        day=row["day"],
        says=f"{whose} disputes: {about}. To be answered by {as_day(row['answer_by'])}, {due}.",
        evidence=(
            f"They say: “{row['says']}”",
            *((f"The line: {row['line']}.",) if row["line"] else ()),
            f"Said {as_zoned_moment(row['made_at'], zone)}. {row['rule']}",
        ),
        stake=Stake(people=1, deadline=_end_of(row["answer_by"], zone), law=row["rule"]),
        next_step=CHECK.next_step,
        details={"dispute": row["dispute"]},
    )


def _end_of(day: date, zone: str) -> datetime:
    return datetime.combine(day, time(23, 59, 59), ZoneInfo(zone))
