"""A reader is nearly full."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.compared import discrepancies
from evenhand.checks.facts import Check, Facts
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import listed

CHECK = Check(
    code="near_capacity",
    title="A reader is nearly full",
    why="A full reader takes no further hand, so the next person to start cannot clock there.",
    next_step="Remove leavers and people who never use that reader, or plan for another one.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader at nine tenths of its capacity or more."""
    for row in discrepancies(facts, "near_capacity"):
        reader = row["reader"]
        gone = [r["number"] for r in discrepancies(facts, "leaver_enrolled") if r["reader"] == reader]
        idle = [r["number"] for r in discrepancies(facts, "unproved") if r["reader"] == reader]
        yield Finding(
            code=CHECK.code,
            subject=reader,
            reader=reader,
            says=f"{reader} is nearly full.",
            evidence=(
                f"{row['evidence']}.",
                f"Of these, {len(gone)} of people who left and {len(idle)} without a punch there.",
            ),
            stake=Stake(people=0),
            next_step=f"Remove at {reader} first {listed(gone) if gone else 'whoever never uses it'}; "
            "then enrol there only who uses it.",
        )
