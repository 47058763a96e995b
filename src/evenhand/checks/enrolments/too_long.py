"""A number is longer than a reader accepts."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.compared import by, discrepancies
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import listed

CHECK = Check(
    code="too_long",
    title="Number too long for a reader",
    why="A reader that accepts four digits never sees the fifth: the number cannot be keyed, or is cut to "
    "somebody else's.",
    next_step="Let the reader accept longer numbers, or give the person a shorter one everywhere.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person, with the readers that cannot take the number."""
    for (person, number), rows in by(discrepancies(facts, "too_long"), "person", "number").items():
        who, readers = call(facts, person), [row["reader"] for row in rows]
        yield Finding(
            code=CHECK.code,
            subject=person,
            person=person,
            number=number,
            reader=readers[0] if len(readers) == 1 else None,
            says=f"{who} cannot key {number} at {listed(readers)}.",
            evidence=tuple(f"{row['evidence']}." for row in rows),
            stake=Stake(people=1),
            next_step=f"Set {listed(readers)} to {len(number)} digits, or give {who} a shorter number on People and "
            "enrol under it at every reader they use.",
            details={"readers": readers},
        )
