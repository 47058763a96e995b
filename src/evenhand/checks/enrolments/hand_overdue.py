"""A hand must be gone from a reader, soon or since.

The worse mistake is silence: a hand that is held for nothing is what the laws on biometric data forbid. So a removal is
asked about until the reader's own list proves it, whatever a supervisor said.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import polars as pl

from evenhand.checks.disagreement import by
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_day, counted, listed

CHECK = Check(
    code="hand_overdue",
    title="A hand must be gone from a reader",
    why="A hand may be held as long as it serves its purpose, and no longer than the law of the place says (740 ILCS "
    "14/15(a), Tex. Bus. & Com. Code 503.001(c)(3), C.R.S. 6-1-1314, GDPR art. 17). What proves that it is gone is the "
    "reader's own list, taken afterwards.",
    next_step="On Leavers, put it on a round of removals; then take a list of the reader, which proves it.",
)
NEXT = {
    "held": "put it on a round of removals",
    "on_a_round": "do the round, and take a list of the reader afterwards",
    "said_done": "take a list of the reader made since, which proves it",
    "unlisted": "take a list of the reader, which proves that the hand is not there",
}


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person with a hand that is due within the days of notice, or overdue, and not proved gone."""
    notice = facts.today + timedelta(days=facts.settings.retention.notice_days)
    due = facts.removals.filter(pl.col("state") != "proved", pl.col("day") <= notice)
    for (person,), rows in by(due.to_dicts(), "person").items():
        yield _finding(facts, str(person), rows)


def _finding(facts: Facts, person: str, rows: list[dict[str, Any]]) -> Finding:
    first = rows[0]
    late = (facts.today - first["day"]).days
    when = f"was to be gone by {as_day(first['day'])}" if late > 0 else f"must be gone by {as_day(first['day'])}"
    readers = listed([row["reader"] for row in rows])
    overdue = f", {counted(late, 'day')} ago" if late > 0 else ""
    return Finding(
        code=CHECK.code,
        subject=person,
        person=person,
        reader=first["reader"] if len(rows) == 1 else None,
        number=first["number"],
        says=f"The hand of {call(facts, person)} {when} from {readers}{overdue}.",
        evidence=tuple(_line(row) for row in rows),
        stake=Stake(people=1, law=first["cites"]),
        next_step=f"On Leavers, {NEXT[first['state']]}.",
        details={"readers": [row["reader"] for row in rows], "destroy_by": first["day"]},
    )


def _line(row: dict[str, Any]) -> str:
    why = f"; {row['purpose_why']} {row['purpose_ended']}" if row["purpose_why"] else ""
    said = f"; said to be taken off by {row['said_by']}, which no list proves" if row["state"] == "said_done" else ""
    reading = f" ({row['reading']})" if row["reading"] else ""
    return f"{row['number']} at {row['reader']}: {row['rule']} {row['started_on']}, {row['cites']}{reading}{why}{said}."
