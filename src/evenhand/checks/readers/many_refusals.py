"""A hand is refused far more often than others at the site."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

SO_MANY = 5
CHANGED = 1e-5
"""Chance of so many refusals, were it as before, below which a hand or a reader has changed."""

TIMES_USUAL = 3
"""How many times the share of the rest of the site a hand is refused, to be often refused now or before."""

CHECK = Check(
    code="many_refusals",
    title=told("A hand is refused too often"),
    why=told(
        "Hands change with season, weight and age, readers with dirt and wear, and some hands are never recognised "
        "well. A number is named where at least five presentations were refused over the last 28 days, three times "
        "the share of the rest of the site. Chance alone must bring that less than once in ten thousand. That a hand "
        "or a reader has changed is said only where the same hand was refused far less often there before. It says "
        "nothing about the person."
    ),
    next_step=told(
        "Clean the reader first. If the hand is still refused and was not before, enrol it again "
        "under the same number; if it was so before, offer another way to clock."
    ),
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
    who = told(" of {who}", who=call(facts, person)) if person else ""
    return Finding(
        code=CHECK.code,
        subject=f"{reader}/{number}",
        person=person,
        reader=reader,
        number=number,
        says=told(
            "{reader} often refuses the hand{who} under {number}{since}.",
            reader=reader,
            who=who,
            number=number,
            since=_since(row),
        ),
        evidence=(_share(row), *_before(row)),
        stake=Stake(people=1),
        next_step=told(
            "Clean the platen and posts of {reader} and let the hand be laid down again; if it is "
            "still refused, {remedy}",
            reader=reader,
            remedy=_remedy(facts, row),
        ),
        details={
            "refused": row["refused"],
            "tried": row["presentations"],
            "is_as_before": _is_as_before(row),
            "has_changed": _has_changed(row),
        },
    )


def _of_reader(reader: str, rows: list[dict[str, Any]]) -> Finding:
    return Finding(
        code=CHECK.code,
        subject=reader,
        reader=reader,
        says=told(
            "{reader} often refuses {count:# hand|# hands}: look at the reader first.", reader=reader, count=len(rows)
        ),
        evidence=(
            *(_share(row) for row in rows[:SO_MANY]),
            told("Numbers: {names:listed 12}.", names=[row["number"] for row in rows]),
        ),
        stake=Stake(people=len(rows)),
        next_step=told(
            "Clean the platen, posts and window of {reader} and watch the next shift; do not enrol "
            "these hands again before the reader itself is ruled out.",
            reader=reader,
        ),
        details={"numbers": [row["number"] for row in rows]},
    )


def _has_changed(row: dict[str, Any]) -> bool:
    return row["chance_as_before"] is not None and row["chance_as_before"] < CHANGED


def _is_as_before(row: dict[str, Any]) -> bool:
    """Whether the hand was often refused there before too, by the same bounds; few punches tell neither."""
    refused, tried = row["earlier_refused"], row["earlier_presentations"]
    return not _has_changed(row) and refused >= SO_MANY and refused >= TIMES_USUAL * row["usual"] * tried


def _is_level_as_before(facts: Facts, person: str | None) -> bool:
    """Whether the level of the person's scores is said to be as before, so that enrolling again may help little."""
    return not facts.forecasts.filter(pl.col("person") == person, pl.col("state") == "often_refused").is_empty()


def _since(row: dict[str, Any]) -> str:
    if row["chance_as_before"] is None:
        return told("; no punch under it there is known from before")
    if _has_changed(row):
        return told(": the reader or the hand has changed")
    return told(", as it did before") if _is_as_before(row) else told("; what was before is too little to compare")


def _before(row: dict[str, Any]) -> tuple[str, ...]:
    count = row["earlier_presentations"]
    return (
        (
            told(
                "Before, it was {earlier_refused:,} of {count:,} under {number} there.",
                earlier_refused=row["earlier_refused"],
                count=count,
                number=row["number"],
            ),
        )
        if count
        else ()
    )


def _remedy(facts: Facts, row: dict[str, Any]) -> str:
    if _is_as_before(row):
        return told(
            "offer another way to clock: it was so before, and whether a new enrolment would help is not known."
        )
    if _is_level_as_before(facts, row["person"]):
        return told(
            "offer another way to clock: by its scores the hand is as before, and a new enrolment may help little."
        )
    number = row["number"]
    return told(
        "have a supervisor remove {number} there and enrol the hand again under {number}, three presentations.",
        number=number,
    )


def _share(row: dict[str, Any]) -> str:
    return told(
        "{refused} of {presentations} presentations under {number} at {reader} were refused in "
        "the last 28 days; elsewhere at site {site} it was {elsewhere_refused:,} of "
        "{elsewhere_presentations:,} ({usual:.2g} %).",
        refused=row["refused"],
        presentations=row["presentations"],
        number=row["number"],
        reader=row["reader"],
        site=row["site"],
        elsewhere_refused=row["elsewhere_refused"],
        elsewhere_presentations=row["elsewhere_presentations"],
        usual=100 * row["usual"],
    )
