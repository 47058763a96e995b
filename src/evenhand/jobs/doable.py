"""Which steps of an enrolment day call somebody for something: not what must wait, nor what finds no place."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import polars as pl

from evenhand.enrolment.places import without_place
from evenhand.enrolment.tables import LEFT_OUT
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.taking_off import TakingOff, as_states, taking_off
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence

__all__ = ["DoableSteps", "doable_steps", "waits_first"]

FIRST = {
    "unseen": sentence(
        "{name}, whose hand may stand under this person's number at {reader}, must be seen under {number} there first; "
        "plan this person then."
    ),
    "no_number": sentence(
        "{name}, whose hand may stand under this person's number at {reader}, has no number of their own on the "
        "roster; give them one first."
    ),
    "last_supervisor": sentence(
        "nobody else who stays may enrol others at {reader}; enrol another supervisor there first."
    ),
}
"""What comes before an enrolment that must wait (HeldBack), as a plan says it."""
FULL = sentence(
    "{reader} is full, and no more numbers may come off it yet; plan this person once one may, or enrol them at "
    "another reader."
)


@dataclass(frozen=True)
class DoableSteps:
    """The steps (READER_STEPS) that can be done, and who is `left_out` (LEFT_OUT) since theirs must wait.

    `together` are the (reader, person) enrolled in one visit, ring by ring; `stay` the (reader, number) that must not
    come off yet, which make room for nobody. `room` says how many places a reader has free, and `there` which
    (reader, number) are on it already.
    """

    steps: Frame
    left_out: Frame
    together: tuple[frozenset[tuple[str, str]], ...]
    stay: frozenset[tuple[str, str]]
    room: Mapping[str, int]
    there: frozenset[tuple[str, str]]


def doable_steps(reckoning: Reckoning, steps: Frame) -> DoableSteps:
    """Return what of the steps (READER_STEPS) of a day calls nobody for nothing; removals that must wait stay in it."""
    if steps.is_empty():
        return DoableSteps(steps, LEFT_OUT.empty(), (), frozenset(), {}, frozenset())
    states = as_states(steps)
    off = taking_off(reckoning, states)
    of_item = {row["item"]: row for row in states.iter_rows(named=True)}
    stay = frozenset(
        (row["reader"], row["number"])
        for item, row in of_item.items()
        if row["action"] == "remove" and item in off.held
    )
    first = dict(waits_first(off, states))
    full = {
        row["item"]: {"person": row["person"], "reader": row["reader"], "why": FULL.format(reader=row["reader"])}
        for row in _without_place(states, off, first)
    }
    named = {
        item: frozenset((of_item[one]["reader"], of_item[one]["person"]) for one in ring)
        for item, ring in off.together.items()
    }
    gone = [of_item[item] for item in first | full]
    enrolling = {(row["reader"], row["person"], row["number"]) for row in gone}
    is_gone = [
        action != "remove" and (reader, person, number) in enrolling
        for reader, person, number, action in steps.select("reader", "person", "number", "action").iter_rows()
    ]
    return DoableSteps(
        steps.filter(~pl.Series(is_gone, dtype=pl.Boolean)),
        LEFT_OUT.rows((first | full).values()),
        tuple(sorted(set(named.values()), key=sorted)),
        stay,
        off.room,
        frozenset((of_item[item]["reader"], of_item[item]["number"]) for item in off.listed),
    )


def waits_first(off: TakingOff, states: Frame) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield the items (STATES) whose enrolment must wait for something else first, with who and why (LEFT_OUT)."""
    for row in states.filter(pl.col("action") != "remove").iter_rows(named=True):
        held = off.held.get(row["item"])
        if held is not None and held.why in FIRST:
            why = FIRST[held.why].format(reader=row["reader"], name=held.name, number=held.number)
            yield row["item"], {"person": row["person"], "reader": row["reader"], "why": why}


def _without_place(states: Frame, off: TakingOff, but: Collection[str]) -> Iterator[dict[str, Any]]:
    """Yield the enrolments for which no place is free once every number that may come off in the round has."""
    stay = {
        row["item"] for row in states.iter_rows(named=True) if row["action"] == "remove" and row["item"] in off.held
    }
    for reader, room in off.room.items():
        here = states.filter(pl.col("reader") == reader).sort(pl.col("action") != "remove", maintain_order=True)
        there = set(here.filter(pl.col("item").is_in(list(off.listed)))["number"])
        full = without_place(here.iter_rows(named=True), stay | set(but), there, len(there) + room)
        yield from here.filter(pl.col("item").is_in(full)).iter_rows(named=True)
