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
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="hand_overdue",
    title=told("A hand must be gone from a reader"),
    why=told(
        "A hand may be held as long as it serves its purpose, and no longer than the law of the "
        "place says (740 ILCS 14/15(a), Tex. Bus. & Com. Code 503.001(c)(3), C.R.S. 6-1-1314, "
        "GDPR art. 17). What proves that it is gone is the reader's own list, taken afterwards."
    ),
    next_step=told("On Leavers, put it on a round of removals; then take a list of the reader, which proves it."),
)
NEXT = {
    "held": told("put it on a round of removals"),
    "on_a_round": told("do the round, and take a list of the reader afterwards"),
    "said_done": told("take a list of the reader made since, which proves it"),
    "unlisted": told("take a list of the reader, which proves that the hand is not there"),
    "taken_over": told(
        "take a list of the reader with names or days, which shows whose hand is under the number now; else take the "
        "number off, take a list, and enrol its holder again"
    ),
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
    when = (
        told("was to be gone by {day}", day=first["day"])
        if late > 0
        else told("must be gone by {day}", day=first["day"])
    )
    readers = told("{names:listed}", names=[row["reader"] for row in rows])
    overdue = told(", {late:# day|# days} ago", late=late) if late > 0 else ""
    return Finding(
        code=CHECK.code,
        subject=person,
        person=person,
        reader=first["reader"] if len(rows) == 1 else None,
        number=first["number"],
        says=told(
            "The hand of {who} {when} from {readers}{overdue}.",
            who=call(facts, person),
            when=when,
            readers=readers,
            overdue=overdue,
        ),
        evidence=tuple(_line(row) for row in rows),
        stake=Stake(people=1, law=first["cites"]),
        next_step=told("On Leavers, {do}.", do=NEXT[first["state"]]),
        details={"readers": [row["reader"] for row in rows], "destroy_by": first["day"]},
    )


def _line(row: dict[str, Any]) -> str:
    why = (
        told("; {why:again} {ended}", why=row["purpose_why"], ended=row["purpose_ended"]) if row["purpose_why"] else ""
    )
    said = (
        told("; said to be taken off by {said_by}, which no list proves", said_by=row["said_by"])
        if row["state"] == "said_done"
        else ""
    )
    reading = told(" ({says:again})", says=row["reading"]) if row["reading"] else ""
    return told(
        "{number} at {reader}: {rule:again} {started_on}, {cites}{reading}{why}{said}.",
        number=row["number"],
        reader=row["reader"],
        rule=row["rule"],
        started_on=row["started_on"],
        cites=row["cites"],
        reading=reading,
        why=why,
        said=said,
    )
