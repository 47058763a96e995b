"""Authority on a reader differs from the roster."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.compared import by, discrepancies
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import counted, listed

CHECK = Check(
    code="supervisor_mismatch",
    title="Authority differs from the roster",
    why="Whoever has authority on a reader can enrol a hand under any number; a supervisor without it cannot help "
    "anybody.",
    next_step="Enrol the supervisor with authority, or the other again without it, while another supervisor stands.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader."""
    for (reader,), rows in by(discrepancies(facts, "supervisor_mismatch"), "reader").items():
        who = [f"{row['number']} {call(facts, row['person'])}" for row in rows]
        yield Finding(
            code=CHECK.code,
            subject=reader,
            reader=reader,
            says=f"{counted(len(rows), 'authority', 'authorities')} at {reader} differ from the roster: {listed(who)}.",
            evidence=tuple(f"{row['evidence']}." for row in rows),
            stake=Stake(people=len(rows)),
            next_step=f"Decide on People who is a supervisor; then follow the steps for {reader} on Readers.",
            details={"people": [row["person"] for row in rows]},
        )
