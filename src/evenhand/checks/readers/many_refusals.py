"""A hand is refused far more often than others at the site."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import counted, listed

SO_MANY = 5
CHANGED = 1e-5
"""Chance of so many refusals, were it as before, below which a hand or a reader has changed."""

CHECK = Check(
    code="many_refusals",
    title="A hand is refused too often",
    why="Hands change with season, weight and age, readers with dirt and wear, and some hands are never recognised "
    "well. Over the last 28 days a number is named where at least five presentations were refused, three times the "
    "share of the rest of the site, and chance alone would do so in less than one of ten thousand. That a hand or a "
    "reader has changed is said only where the same hand was refused far less often there before. It says nothing "
    "about the person.",
    next_step="Clean the reader first. If the hand is still refused and was not before, enrol it again under the same "
    "number; if it was so before, offer another way to clock.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader and number, or one per reader where more than five hands suffer there."""
    for (reader,), hands in facts.refused_hands.partition_by("reader", as_dict=True, maintain_order=True).items():
        rows = hands.rows(named=True)
        if len(rows) > SO_MANY:
            yield _of_reader(str(reader), rows)
        else:
            yield from (_of_hand(facts, row) for row in rows)


def _of_hand(facts: Facts, row: dict[str, Any]) -> Finding:
    reader, number, person = row["reader"], row["number"], row["person"]
    who = f" of {call(facts, person)}" if person else ""
    return Finding(
        code=CHECK.code,
        subject=f"{reader}/{number}",
        person=person,
        reader=reader,
        number=number,
        says=f"{reader} often refuses the hand{who} under {number}{_since(row)}.",
        evidence=(_share(row), *_before(row)),
        stake=Stake(people=1),
        next_step=f"Clean the platen and posts of {reader} and let the hand be laid down again; if it is still "
        f"refused, {_remedy(facts, row)}",
        details={"refused": row["refused"], "tried": row["presentations"], "is_as_before": _is_as_before(row)},
    )


def _of_reader(reader: str, rows: list[dict[str, Any]]) -> Finding:
    return Finding(
        code=CHECK.code,
        subject=reader,
        reader=reader,
        says=f"{reader} often refuses {counted(len(rows), 'hand')}: look at the reader first.",
        evidence=(
            *(_share(row) for row in rows[:SO_MANY]),
            f"Numbers: {listed([row['number'] for row in rows], most=12)}.",
        ),
        stake=Stake(people=len(rows)),
        next_step=f"Clean the platen, posts and window of {reader} and watch the next shift; do not enrol these hands "
        "again before the reader itself is ruled out.",
        details={"numbers": [row["number"] for row in rows]},
    )


def _is_as_before(row: dict[str, Any]) -> bool:
    return row["chance_as_before"] is not None and row["chance_as_before"] >= CHANGED


def _is_level_as_before(facts: Facts, person: str | None) -> bool:
    """Whether the level of the person's scores is said to be as before, so that enrolling again may help little."""
    return not facts.forecasts.filter(pl.col("person") == person, pl.col("state") == "often_refused").is_empty()


def _since(row: dict[str, Any]) -> str:
    if row["chance_as_before"] is None:
        return "; no punch under it there is known from before"
    return ", as it did before" if _is_as_before(row) else ": the reader or the hand has changed"


def _before(row: dict[str, Any]) -> tuple[str, ...]:
    count = row["earlier_presentations"]
    return (f"Before, it was {row['earlier_refused']:,} of {count:,} under {row['number']} there.",) if count else ()


def _remedy(facts: Facts, row: dict[str, Any]) -> str:
    if _is_as_before(row):
        return "offer another way to clock: it was so before, and whether a new enrolment would help is not known."
    if _is_level_as_before(facts, row["person"]):
        return "offer another way to clock: by its scores the hand is as before, and a new enrolment may help little."
    number = row["number"]
    return f"have a supervisor remove {number} there and enrol the hand again under {number}, three presentations."


def _share(row: dict[str, Any]) -> str:
    return (
        f"{row['refused']} of {row['presentations']} presentations under {row['number']} at {row['reader']} were "
        f"refused in the last 28 days; elsewhere at site {row['site']} it was {row['elsewhere_refused']:,} of "
        f"{row['elsewhere_presentations']:,} ({100 * row['usual']:.2g} %)."
    )
