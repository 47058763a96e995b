"""All supervisors of a reader are there at the same time, so that others who use it never meet one.

To cry is worse: a week of holidays is no fault. So a quarter of the others' shifts, or three days, must be without any.
"""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.terms.records import Finding, Stake
from evenhand.terms.supervision import STANDING_STATES
from evenhand.terms.words import called, counted, listed

CHECK = Check(
    code="supervisors_together",
    title="A reader's supervisors work, or are away, together",
    why="Whoever is refused on another shift, or on a day on which all supervisors are away, can neither be enrolled "
    "again nor helped until one of them comes (common practice, no source).",
    next_step="Enrol as supervisor somebody of the other shift, or have one of them exchange shifts or leave.",
)

SHARE, FEW_SHIFTS, DAYS = 0.25, 10, 3


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader where supervisors stand and none is there for a good part of the others' time."""
    apart = (pl.col("alone") >= FEW_SHIFTS) & (pl.col("alone") >= SHARE * pl.col("shifts"))
    for row in facts.uncovered.filter(apart | (pl.col("absent") >= DAYS)).iter_rows(named=True):
        reader = row["reader"]
        there = facts.supervision.filter(pl.col("reader") == reader, pl.col("state").is_in(STANDING_STATES))
        names = [called(name, person) for name, person in there.select("name", "person").iter_rows()]
        told = []
        if row["alone"] >= FEW_SHIFTS and row["alone"] >= SHARE * row["shifts"]:
            told.append(
                f"{row['alone']:,} of {counted(row['shifts'], 'shift')} of the others enrolled there touch no shift of "
                "a supervisor's."
            )
        if row["absent"] >= DAYS:
            told.append(
                f"On {row['absent']} of {counted(row['days'], 'usual day')} there no supervisor of it punched anywhere."
            )
        yield Finding(
            code=CHECK.code,
            subject=reader,
            reader=reader,
            says=f"The supervisors of {reader} are all there, or all away, at the same times.",
            evidence=(*told, "That is of the last four weeks.", f"Its supervisors: {listed(names)}."),
            stake=Stake(people=facts.enrolled_at(reader)),
            next_step=f"Enrol as supervisor at {reader} somebody who works when they do not.",
            details={name: row[name] for name in ("shifts", "alone", "days", "absent")},
        )
