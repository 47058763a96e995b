"""Which steps of an enrolment day call somebody for something: not what must wait, nor what finds no place."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import polars as pl

from evenhand.enrolment.tables import LEFT_OUT
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.taking_off import TakingOff, as_states, taking_off
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence

__all__ = ["DoableSteps", "doable_steps", "off_as_planned", "stays_on", "waits_first"]

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
    "full": sentence(
        "{reader} is full, and no more numbers may come off it yet; plan this person once one may, or enrol them at "
        "another reader."
    ),
}
"""What comes before an enrolment that must wait (HeldBack), as a plan says it."""


@dataclass(frozen=True)
class DoableSteps:
    """The steps (READER_STEPS) that can be done, and who is `left_out` (LEFT_OUT) since theirs must wait.

    `together` are the (reader, person) enrolled in one visit, ring by ring; `stay` the (reader, number) that must not
    come off yet, which make room for nobody. `held` are the numbers each reader holds, `capacity` how many at most.
    """

    steps: Frame
    left_out: Frame
    together: tuple[frozenset[tuple[str, str]], ...]
    stay: frozenset[tuple[str, str]]
    held: Mapping[str, Collection[str]]
    capacity: Mapping[str, int]


def doable_steps(reckoning: Reckoning, steps: Frame) -> DoableSteps:
    """Return what of the steps (READER_STEPS) of a day calls nobody for nothing; removals that must wait stay in it."""
    if steps.is_empty():
        return DoableSteps(steps, LEFT_OUT.empty(), (), frozenset(), {}, {})
    states = as_states(steps)
    off = off_as_planned(reckoning, states)
    of_item = {row["item"]: row for row in states.iter_rows(named=True)}
    first = dict(waits_first(off, states))
    named = {
        item: frozenset((of_item[one]["reader"], of_item[one]["person"]) for one in ring)
        for item, ring in off.together.items()
    }
    enrolling = {(of_item[item]["reader"], of_item[item]["person"], of_item[item]["number"]) for item in first}
    is_gone = [
        action != "remove" and (reader, person, number) in enrolling
        for reader, person, number, action in steps.select("reader", "person", "number", "action").iter_rows()
    ]
    return DoableSteps(
        steps.filter(~pl.Series(is_gone, dtype=pl.Boolean)),
        LEFT_OUT.rows(first.values()),
        tuple(sorted(set(named.values()), key=sorted)),
        stays_on(off, states),
        off.numbers,
        off.capacity,
    )


def off_as_planned(reckoning: Reckoning, states: Frame) -> TakingOff:
    """Return what must wait of items (STATES) that are still to be put in order: all that may come off does so first.

    Only who finds no place even then is told that the reader is full; whoever was put off is like the others.
    """
    in_order = states.sort("reader", pl.col("action") != "remove", "position")
    running = pl.int_range(1, pl.len() + 1, dtype=pl.Int64).over("reader")
    return taking_off(reckoning, in_order.with_columns(position=running, put_off=pl.lit(0, pl.Int64)))


def stays_on(off: TakingOff, states: Frame) -> frozenset[tuple[str, str]]:
    """Return the (reader, number) of items (STATES) that must not come off their reader yet."""
    removing = states.filter(pl.col("action") == "remove", pl.col("item").is_in(list(off.held)))
    return frozenset(removing.select("reader", "number").iter_rows())


def waits_first(off: TakingOff, states: Frame) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield the items (STATES) whose enrolment must wait for something else first, with who and why (LEFT_OUT)."""
    for row in states.filter(pl.col("action") != "remove").iter_rows(named=True):
        held = off.held.get(row["item"])
        if held is not None and held.why in FIRST:
            why = FIRST[held.why].format(reader=row["reader"], name=held.name, number=held.number)
            yield row["item"], {"person": row["person"], "reader": row["reader"], "why": why}
