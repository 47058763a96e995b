"""Somebody with authority on a reader leaves soon, has left, or gave up having their hand held.

To be silent is worse: once they are gone nobody may be left to enrol who follows.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.disagreement import by
from evenhand.checks.facts import Check, Facts
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.supervision import STANDING_STATES
from evenhand.terms.words import called

CHECK = Check(
    code="supervisor_leaving",
    title=told("A supervisor leaves"),
    why=told(
        "Whoever leaves takes their authority along. If nobody else is proved by then, nobody can be enrolled at the "
        "reader. If the authority stays on it, somebody who is gone may still enrol hands (common practice, no "
        "source)."
    ),
    next_step=told(
        "Have two others proved at each of their readers first; `evenhand supervisors succession "
        "PERSON` gives the steps in order."
    ),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person with authority whose last day is near or over, or whose hand may not be held."""
    gone = pl.col("state").is_in(("left", "withdrew")) | pl.col("leaves_on").is_not_null()
    rows = facts.supervision.filter(gone, pl.col("person").is_not_null()).rows(named=True)
    for (person,), theirs in by(rows, "person").items():
        who = called(theirs[0]["name"], person)
        readers = [row["reader"] for row in theirs]
        short = [reader for reader in readers if _staying(facts, reader, person) < 2]
        yield Finding(
            code=CHECK.code,
            subject=person,
            person=person,
            number=theirs[0]["number"],
            reader=readers[0] if len(readers) == 1 else None,
            says=told(
                "{who} {why} and may enrol others at {readers:listed}.", who=who, why=_why(theirs[0]), readers=readers
            ),
            evidence=tuple(
                told(
                    "{reader}: {staying:# other supervisor|# other supervisors} proved who can still come.",
                    reader=reader,
                    staying=_staying(facts, reader, person),
                )
                for reader in readers
            ),
            stake=Stake(people=sum(facts.enrolled_at(reader) for reader in short)),
            next_step=told(
                "Follow `evenhand supervisors succession {person}`: {what}",
                person=person,
                what=told("at {short:listed} somebody is to be enrolled and proved first.", short=short)
                if short
                else told("two others are proved."),
            ),
            details={"readers": readers, "short": short},
        )


def _why(row: dict[str, Any]) -> str:
    if row["state"] == "withdrew":
        return told("is not to have a hand enrolled any longer")
    if row["state"] == "left":
        return told("left on {day}", day=row["leaves_on"])
    return told("leaves on {day}", day=row["leaves_on"])


def _staying(facts: Facts, reader: str, leaving: str) -> int:
    return facts.supervision.filter(
        pl.col("reader") == reader,
        pl.col("person") != leaving,
        pl.col("state").is_in(STANDING_STATES),
        pl.col("leaves_on").is_null(),
    ).height
