"""The roster gives a person no number."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.compared import discrepancies
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="no_number",
    title="No number to key",
    why="Without a number on the roster nobody can be enrolled, and no punch can ever be theirs.",
    next_step="Give the person a number of the site's usual length, drawn at random, on People.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person."""
    for row in discrepancies(facts, "no_number"):
        who = call(facts, row["person"])
        yield Finding(
            code=CHECK.code,
            subject=row["person"],
            person=row["person"],
            says=f"{who} has no number on the roster.",
            evidence=(f"{row['evidence']}.",),
            stake=Stake(people=1),
            next_step=f"On People, give {who} a number nobody holds or has held lately, neither taken from a telephone "
            "or address nor next to another; then enrol.",
        )
