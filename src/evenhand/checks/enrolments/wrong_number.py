"""A hand is enrolled under a number that is not the roster's."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.compared import discrepancies
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="wrong_number",
    title="Enrolled under another number",
    why="The number is the only link: the hand is accepted, and the hours go nowhere. Left to themselves people "
    "key the end of a telephone or house number, or slip by a digit.",
    next_step="Have a supervisor enrol the hand under the roster's number, and only then remove the wrong one.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader and number."""
    for row in discrepancies(facts, "wrong_number"):
        who, reader, number, right = call(facts, row["person"]), row["reader"], row["number"], row["other"]
        yield Finding(
            code=CHECK.code,
            subject=f"{reader}/{number}",
            person=row["person"],
            reader=reader,
            number=number,
            says=f"At {reader}, {number} is probably the hand of {who}, whose number is {right}.",
            evidence=(f"{row['evidence']}.",),
            stake=Stake(people=1),
            next_step=f"At {reader}, have a supervisor ask {who} to key {number}; if the hand is accepted, enrol it "
            f"under {right}, prove it with a punch, and then remove {number}.",
            details={"right": right},
        )
