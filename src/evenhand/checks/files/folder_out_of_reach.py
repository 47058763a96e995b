"""The watched folder cannot be looked into."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.facts import Check, Facts
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="folder_out_of_reach",
    title=told("The watched folder is out of reach"),
    why=told(
        "While the folder cannot be looked into no file in it is taken, and what is shown here "
        "grows old without a word from the readers."
    ),
    next_step=told("Put the folder back, or let evenhand read it; then it is looked into again by itself."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield one finding where there is a problem."""
    if facts.watched.problem:
        yield Finding(
            code=CHECK.code,
            subject=facts.watched.path,
            says=told("{says:again}", says=facts.watched.problem),
            evidence=(),
            stake=Stake(),
            next_step=CHECK.next_step,
        )
