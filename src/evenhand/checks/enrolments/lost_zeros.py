"""A number has lost its leading zeros."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.compared import by, discrepancies
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import listed

CHECK = Check(
    code="lost_zeros",
    title="Leading zeros lost",
    why="A spreadsheet or a list that treats numbers as quantities drops zeros in front, and 0123 and 123 are two "
    "numbers to a reader.",
    next_step="Put the number right where it was shortened: in the file, on the roster or on the reader.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and shortened number, with all readers that show it."""
    for (person, number, right), rows in by(discrepancies(facts, "lost_zeros"), "person", "number", "other").items():
        who, readers = call(facts, person), sorted({row["reader"] for row in rows})
        short_roster = len(right) < len(number)
        yield Finding(
            code=CHECK.code,
            subject=f"{person}/{number}",
            person=person,
            number=number,
            reader=readers[0] if len(readers) == 1 else None,
            says=f"The number of {who} is {right} on the roster and {number} at {listed(readers)}.",
            evidence=tuple(f"{row['evidence']}." for row in rows),
            stake=Stake(people=1),
            next_step=f"On People, give {who} the number {number} with its zeros, and keep that column as text."
            if short_roster
            else f"If the file lost the zeros, take it again with that column as text; if {number} stands at "
            f"{listed(readers)} itself, enrol {who} there under {right} and then remove {number}.",
            details={"right": right},
        )
