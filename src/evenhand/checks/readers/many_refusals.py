"""A hand is refused far more often than others at the site."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import counted, listed

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
        says=f"{reader} often refuses the hand{who} under {number}: the reader or the hand has changed.",
        evidence=(_share(row),),
        stake=Stake(people=1),
        next_step=f"Clean the platen and posts of {reader} and let the hand be laid down again; if it is still "
        f"refused, have a supervisor remove {number} there and enrol the hand again under {number}, three "
        "presentations.",
        details={"refused": row["refused"], "tried": row["presentations"]},
    )


def _of_reader(reader: str, rows: list[dict[str, Any]]) -> Finding:
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
        next_step=f"Clean the platen, posts and window of {reader} and watch the next shift; do not enrol these hands "
        "again before the reader itself is ruled out.",
        details={"numbers": [row["number"] for row in rows]},
    )


def _share(row: dict[str, Any]) -> str:
    return (
        f"{row['refused']} of {row['presentations']} presentations under {row['number']} at {row['reader']} were "
        f"refused in the last 28 days; elsewhere at site {row['site']} it was {row['elsewhere_refused']:,} of "
        f"{row['elsewhere_presentations']:,} ({100 * row['usual']:.2g} %)."
    )
