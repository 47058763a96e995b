"""All supervisors of a reader are there at the same time, so that others who use it never meet one.

To cry is worse: a week of holidays is no fault. So a quarter of the others' shifts, or three days, must be without any.
"""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.supervision import STANDING_STATES
from evenhand.terms.words import called

CHECK = Check(
    code="supervisors_together",
    title=told("A reader's supervisors work, or are away, together"),
    why=told(
        "Whoever is refused on another shift, or on a day on which all supervisors are away, can "
        "neither be enrolled again nor helped until one of them comes (common practice, no "
        "source)."
    ),
    next_step=told("Enrol as supervisor somebody of the other shift, or have one of them exchange shifts or leave."),
)

SHARE, FEW_SHIFTS, DAYS = 0.25, 10, 3


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader where supervisors stand and none is there for a good part of the others' time."""
    apart = (pl.col("alone") >= FEW_SHIFTS) & (pl.col("alone") >= SHARE * pl.col("shifts"))
    for row in facts.uncovered.filter(apart | (pl.col("absent") >= DAYS)).iter_rows(named=True):
        reader = row["reader"]
        there = facts.supervision.filter(pl.col("reader") == reader, pl.col("state").is_in(STANDING_STATES))
        names = [called(name, person) for name, person in there.select("name", "person").iter_rows()]
        lines = []
        if row["alone"] >= FEW_SHIFTS and row["alone"] >= SHARE * row["shifts"]:
            lines.append(
                told(
                    "{alone:,} of {shifts:# shift|# shifts} of the others enrolled there touch no shift of a "
                    "supervisor's.",
                    alone=row["alone"],
                    shifts=row["shifts"],
                )
            )
        if row["absent"] >= DAYS:
            lines.append(
                told(
                    "On {absent} of {days:# usual day|# usual days} there no supervisor of it punched anywhere.",
                    absent=row["absent"],
                    days=row["days"],
                )
            )
        yield Finding(
            code=CHECK.code,
            subject=reader,
            reader=reader,
            says=told("The supervisors of {reader} are all there, or all away, at the same times.", reader=reader),
            evidence=(
                *lines,
                told("That is of the last four weeks."),
                told("Its supervisors: {names:listed}.", names=names),
            ),
            stake=Stake(people=facts.enrolled_at(reader)),
            next_step=told("Enrol as supervisor at {reader} somebody who works when they do not.", reader=reader),
            details={name: row[name] for name in ("shifts", "alone", "days", "absent")},
        )
