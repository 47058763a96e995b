"""Fewer than two supervisors stand on a reader."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.compared import discrepancies
from evenhand.checks.facts import Check, Facts
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import listed

CHECK = Check(
    code="few_supervisors",
    title="Fewer than two supervisors on a reader",
    why="Only a supervisor who proves the own hand can enrol others. With one, a day of absence stops every "
    "enrolment; with none, anybody can make themselves one (common practice, no source).",
    next_step="Enrol a second supervisor of the site before anything else is done at that reader.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader."""
    for row in discrepancies(facts, "few_supervisors"):
        reader = row["reader"]
        steps = facts.reader_steps.filter(pl.col("reader") == reader, pl.col("action") == "enrol_supervisor")
        chosen = [f"{name} under {number}" for name, number in steps.select("name", "number").iter_rows()]
        enrolled = facts.enrolments.filter(pl.col("reader") == reader).height
        yield Finding(
            code=CHECK.code,
            subject=reader,
            reader=reader,
            says=f"{reader} has fewer than two supervisors.",
            evidence=(f"{row['evidence']}.",),
            stake=Stake(people=enrolled),
            next_step=f"At {reader}, enrol as supervisor {listed(chosen)}."
            if chosen
            else f"Name two supervisors for site {facts.reader_sites.get(reader)} on People; then "
            f"enrol them at {reader} first.",
        )
