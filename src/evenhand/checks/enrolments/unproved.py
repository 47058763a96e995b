"""No punch has ever proved an enrolment."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.compared import by, discrepancies
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, counted, listed
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="unproved",
    title="Enrolments never proved",
    why="An enrolment counts as good when the first punch under the right number arrives. Until then the number "
    "may be wrong, or the hand may not be recognised.",
    next_step="Ask each of them to key the number and lay the hand down once, and take the reader's log again.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader whose log has been taken, with the numbers it has not yet accepted a hand under."""
    heard = set(facts.recorded["reader"].unique().to_list())
    for (reader,), rows in by(discrepancies(facts, "unproved"), "reader").items():
        if reader not in heard:
            continue
        people = [f"{row['number']} {call(facts, row['person'])}" for row in rows]
        yield Finding(
            code=CHECK.code,
            subject=reader,
            reader=reader,
            says=f"{counted(len(rows), 'enrolment')} at {reader} not proved by a punch yet.",
            evidence=(f"No hand accepted there yet under {listed(people, most=12)}.",),
            stake=Stake(people=len(rows)),
            next_step=f"Ask them to key their number at {reader} and lay the hand down once; whoever always uses "
            "another reader need not be enrolled on this one.",
            details={"people": [row["person"] for row in rows]},
        )
