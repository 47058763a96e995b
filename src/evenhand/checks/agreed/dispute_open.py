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
from evenhand.terms.languages import Moment, sentence, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="dispute_open",
    title=told("Disputed, and not answered yet"),
    why=told(
        "A person says that a line of their record is wrong. They are owed an answer by a day, "
        "and what they say is often how a wrong reader, rule or list is found. Asking about pay "
        "is protected (29 USC 215(a)(3))."
    ),
    next_step=told("Look at the day with the person; correct it and accept, or say why it stands, on Sign-off."),
)

DISPUTED_ABOUT = {
    "day": sentence("day"),
    "punch": sentence("punch"),
    "premium": sentence("premium"),
    "pay": sentence("pay"),
    "enrolment": sentence("enrolment"),
    "release": sentence("release"),
    "other": sentence("other"),
}


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per dispute that waits for an answer."""
    for row in facts.disputes.iter_rows(named=True):
        yield _finding(facts, row)


def _finding(facts: Facts, row: dict[str, Any]) -> Finding:
    whose, zone = call(facts, row["person"]), facts.zone_of(row["person"])
    about = told(DISPUTED_ABOUT[row["kind"]])
    if row["day"]:
        about = told("{kind}, {day}", kind=about, day=row["day"])
    left = (row["answer_by"] - facts.today).days
    due = (
        told("in {count:# day|# days}", count=left)
        if left > 0
        else told("today")
        if not left
        else told("{count:# day|# days} ago", count=-left)
    )
    return Finding(
        code=CHECK.code,
        subject=str(row["dispute"]),
        person=row["person"],
        day=row["day"],
        says=told(
            "{whose} disputes: {about}. To be answered by {day}, {due}.",
            whose=whose,
            about=about,
            day=row["answer_by"],
            due=due,
        ),
        evidence=(
            told("They say: “{says}”", says=row["says"]),
            *((told("The line: {line}.", line=row["line"]),) if row["line"] else ()),
            told("Said {at:zoned}. {rule}", at=Moment(row["made_at"], zone), rule=row["rule"]),
        ),
        stake=Stake(people=1, deadline=_end_of(row["answer_by"], zone), law=row["rule"]),
        next_step=CHECK.next_step,
        details={"dispute": row["dispute"]},
    )


def _end_of(day: date, zone: str) -> datetime:
    return datetime.combine(day, time(23, 59, 59), ZoneInfo(zone))
