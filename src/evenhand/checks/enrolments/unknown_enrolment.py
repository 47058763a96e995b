"""A reader lists numbers that nobody on the roster holds."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.compared import by, discrepancies
from evenhand.checks.facts import Check, Facts
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import counted, listed

CHECK = Check(
    code="unknown_enrolment",
    title="Unknown numbers enrolled",
    why="An enrolment nobody can name is either somebody whose hours go nowhere, or a hand that should no longer "
    "be held.",
    next_step="Find out whose hand it is before removing anything; removing takes the number, not the person.",
)

MOST = 12


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader, with its unknown numbers."""
    for (reader,), rows in by(discrepancies(facts, "unknown_enrolment"), "reader").items():
        numbers = [row["number"] for row in rows]
        punched = sum(row["punches"] for row in rows)
        yield Finding(
            code=CHECK.code,
            subject=reader,
            reader=reader,
            number=numbers[0] if len(numbers) == 1 else None,
            says=f"{reader} lists {counted(len(rows), 'number')} that nobody on the roster holds: {listed(numbers)}.",
            evidence=tuple(f"{row['evidence']}." for row in rows[:MOST]),
            stake=Stake(people=len(rows)),
            next_step=f"At {reader}, find out whose {listed(numbers)} {'is' if len(rows) == 1 else 'are'}"
            + (f", with the {counted(punched, 'punch', 'punches')} under them on Strays" if punched else "")
            + "; enrol the hand under its roster number, or remove the number if nobody claims it.",
            details={"numbers": numbers},
        )
