"""A hand is refused far more often than others at the site."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.chances import at_least
from evenhand.checks.compared import by
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import counted, listed

DAYS = 28
FEWEST = 5
TIMES = 3
CHANCE = 1e-4
SO_MANY = 5

CHECK = Check(
    code="many_refusals",
    title="A hand is refused too often",
    why="A hand or a reader has changed: hands change with season, weight and age, readers with dirt and wear. "
    "Over the "
    "last 28 days a number is named where at least five presentations were refused, three times the share of the rest "
    "of the site, and chance alone would do so in less than one of ten thousand. It says nothing about the person.",
    next_step="Clean the reader first; if others are well recognised there, enrol the hand again under the same "
    "number.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader and number, or one per reader where more than five hands suffer there."""
    for (reader,), rows in by(list(_refused(facts)), "reader").items():
        if len(rows) > SO_MANY:
            yield _of_reader(facts, reader, rows)
        else:
            for row in rows:
                yield _of_hand(facts, row)


def _refused(facts: Facts) -> Iterator[dict[str, Any]]:
    recent = facts.recorded.filter(pl.col("at") > facts.as_of - DAYS * 86_400, pl.col("at") <= facts.as_of)
    refused = (pl.col("outcome") == "refused").fill_null(False)
    counted_up = recent.group_by("reader", "number").agg(pl.len().alias("tried"), refused.sum().alias("refused"))
    sites = facts.readers.select("reader", "site").unique("reader")
    hands = counted_up.join(sites, on="reader").with_columns(
        pl.col("tried").sum().over("site").alias("all_tried"), pl.col("refused").sum().over("site").alias("all_refused")
    )
    for row in hands.filter(pl.col("refused") >= FEWEST).sort("reader", "number").iter_rows(named=True):
        others = row["all_tried"] - row["tried"]
        # half a refusal more than was seen, so that a site without any other refusal does not call every one a wonder
        share = (row["all_refused"] - row["refused"] + 0.5) / (others + 1)
        often = row["refused"] / row["tried"] >= TIMES * share
        if others and often and at_least(row["refused"], row["tried"], share) < CHANCE:
            yield row | {"share": share}


def _of_hand(facts: Facts, row: dict[str, Any]) -> Finding:
    reader, number = row["reader"], row["number"]
    holders = [person for person, held in facts.numbers.items() if held == number]
    who = f" of {call(facts, holders[0])}" if len(holders) == 1 else ""
    return Finding(
        code=CHECK.code,
        subject=f"{reader}/{number}",
        person=holders[0] if len(holders) == 1 else None,
        reader=reader,
        number=number,
        says=f"{reader} often refuses the hand{who} under {number}: the reader or the hand has changed.",
        evidence=(_share(row),),
        stake=Stake(people=1),
        next_step=f"Clean the plate and posts of {reader} and let the hand be laid down again; if it is still "
        "refused, have "
        f"a supervisor remove {number} there and enrol the hand again under {number}, three presentations.",
        details={"refused": row["refused"], "tried": row["tried"]},
    )


def _of_reader(facts: Facts, reader: str, rows: list[dict[str, Any]]) -> Finding:
    return Finding(
        code=CHECK.code,
        subject=reader,
        reader=reader,
        says=f"{reader} often refuses {counted(len(rows), 'hand')}: the reader has changed.",
        evidence=(
            *(_share(row) for row in rows[:SO_MANY]),
            f"Numbers: {listed([row['number'] for row in rows], most=12)}.",
        ),
        stake=Stake(people=len(rows)),
        next_step=f"Clean the plate, posts and window of {reader} and watch the next shift; do not enrol these "
        "hands again "
        "before the reader itself is ruled out.",
        details={"numbers": [row["number"] for row in rows]},
    )


def _share(row: dict[str, Any]) -> str:
    return (
        f"{row['refused']} of {row['tried']} presentations under {row['number']} at {row['reader']} were "
        "refused in the "
        f"last {DAYS} days; elsewhere at site {row['site']} it is {row['share']:.1%}."
    )
