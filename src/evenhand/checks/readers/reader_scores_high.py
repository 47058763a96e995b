"""The same people score higher at one reader than at the others they use."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="reader_scores_high",
    title=told("A reader scores everybody high"),
    why=told(
        "Where people use two readers, a reader's own part of their scores can be told. One "
        "whose part is a tenth above the usual beyond doubt is worn, out of adjustment, or dirty "
        "for long, and refuses hands that others accept."
    ),
    next_step=told("Clean the platen; if that does not help, calibrate the reader."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader."""
    for row in facts.health.filter(pl.col("kind") == "offset").iter_rows(named=True):
        yield Finding(
            code=CHECK.code,
            subject=row["reader"],
            reader=row["reader"],
            says=told(
                "The same people score {size:.2f} times as high at {reader} as elsewhere.",
                size=row["size"],
                reader=row["reader"],
            ),
            evidence=(told("95 % interval {low:.2f} to {high:.2f} times.", low=row["low"], high=row["high"]),),
            stake=Stake(people=facts.enrolled_at(row["reader"])),
            next_step=told("Clean the platen; if that does not help, calibrate the reader."),
        )
