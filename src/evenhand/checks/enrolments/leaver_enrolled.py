"""Somebody who left is still enrolled."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.compared import by, discrepancies
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import listed

CHECK = Check(
    code="leaver_enrolled",
    title="Leavers still enrolled",
    why="A number that stays on a reader can be keyed, and what a reader holds of a hand is to be deleted when "
    "its purpose ends (for Illinois 740 ILCS 14/15(a): at the latest three years after the last interaction; "
    "other places have their own terms).",
    next_step="Remove the number from each reader that lists it, once a second supervisor stands there.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person who left, with all readers that still list the number."""
    for (person, number), rows in by(discrepancies(facts, "leaver_enrolled"), "person", "number").items():
        who, readers = call(facts, person), [row["reader"] for row in rows]
        yield Finding(
            code=CHECK.code,
            subject=person,
            person=person,
            number=number,
            reader=readers[0] if len(readers) == 1 else None,
            says=f"{who} has left and is still enrolled at {listed(readers)}.",
            evidence=tuple(f"{row['evidence']}." for row in rows),
            stake=Stake(people=1, law="retention: for Illinois 740 ILCS 14/15(a); the law of the place decides"),
            next_step=f"Remove {number} at {listed(readers)}, in the order of the steps on Readers, "
            "and record the deletion.",
            details={"readers": readers},
        )
