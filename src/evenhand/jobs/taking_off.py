"""Which numbers of a round stay on their readers for now, by what the store tells of who is seen where."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import timedelta

import polars as pl

from evenhand import reconcile
from evenhand.enrolment.rounds import round_states
from evenhand.enrolment.taking_off import AtReaders, HeldBack, at_readers, enrolments_awaited, held_back, taken_too_soon
from evenhand.jobs.at_turn import WAITS
from evenhand.jobs.consents import another_way, hands_given
from evenhand.jobs.reckoning import Reckoning
from evenhand.terms.columns import Frame
from evenhand.terms.rounds import OUTCOMES, ROUND_ITEMS
from evenhand.terms.zones import day_start

__all__ = ["TakingOff", "steps_held", "taking_off"]

LOOKED_BACK = timedelta(weeks=8)
"""For so long a punch tells that a number is in use, or that somebody is seen under their own."""


@dataclass(frozen=True)
class TakingOff:
    """By item of a round that takes a number off: why it waits (`held`), and which items must not have failed since.

    `too_soon` are those that took a number off whose owner is not seen under their own, so that none may work for them.
    """

    held: Mapping[str, HeldBack] = field(default_factory=dict)
    awaited: Mapping[str, list[str]] = field(default_factory=dict)
    too_soon: frozenset[str] = frozenset()


def taking_off(reckoning: Reckoning, states: Frame) -> TakingOff:
    """Return what of a round's items (STATES) must not be taken off its reader yet."""
    if states.is_empty():
        return TakingOff()
    of = reckoning.snapshot
    known = _at_readers(reckoning, states)
    every = round_states(of.round_items, of.outcomes)
    return TakingOff(
        held_back(states, every, known), enrolments_awaited(states, known), taken_too_soon(states, every, known)
    )


def steps_held(reckoning: Reckoning, steps: Frame) -> dict[int, str]:
    """Return by position why a step at one reader (READER_STEPS) must wait, as a round of it would say in English."""
    told = ("reader", "position", "action", "number", "person", "name")
    items = ROUND_ITEMS.rows(
        {name: row[name] for name in told} | {"item": str(row["position"]), "round": "", "language": "en"}
        for row in steps.iter_rows(named=True)
    )
    held = taking_off(reckoning, round_states(items, OUTCOMES.empty())).held
    return {int(step): WAITS[why.why].format(name=why.name, number=why.number) for step, why in held.items()}


def _at_readers(reckoning: Reckoning, states: Frame) -> AtReaders:
    of, readers = reckoning.snapshot, states["reader"].unique()
    here = pl.col("reader").is_in(readers.implode())
    roster = reconcile.roster_on(of.people, reckoning.day)
    standings = reconcile.standings(roster, of.readers, of.enrolments.filter(here))
    no_hand = list(another_way(hands_given(reckoning).states))
    alone = roster.filter(~pl.col("has_left")).filter(pl.col("number").is_unique())["number"]
    told = roster.select(
        "person",
        "name",
        number=pl.when(pl.col("number").is_in(alone.implode())).then("number"),
        gives_hand=pl.col("is_here") & ~pl.col("person").is_in(no_hand),
    )
    return at_readers(_accepted(reckoning, readers), standings, _listed(reckoning, readers), told)


def _accepted(reckoning: Reckoning, readers: pl.Series) -> Frame:
    """Return the punches accepted lately at the readers: reader, number, at, person, null where whose is not known."""
    since = int((reckoning.as_of - LOOKED_BACK).timestamp())
    at_readers = pl.col("reader").is_in(readers.implode()), pl.col("at") >= since
    attribution = reckoning.attribution
    theirs = attribution.attributed.filter(pl.col("punch") >= 0, *at_readers).select("punch", "person")
    nobodys = attribution.unattributed.filter(*at_readers).select("punch", person=pl.lit(None, pl.String))
    keyed = reckoning.snapshot.recorded.filter(*at_readers).select("punch", "reader", "number", "at")
    return keyed.join(pl.concat([theirs.cast({"person": pl.String}), nobodys]), on="punch").drop("punch")


def _listed(reckoning: Reckoning, readers: pl.Series) -> Frame:
    """Return the readers' lists as they are now: reader, number, told_at, enrolled_at."""
    of = reckoning.snapshot
    rows = of.enrolment_history.filter(pl.col("gone").is_null(), pl.col("reader").is_in(readers.implode()))
    zones = dict(of.readers.select("reader", "zone").iter_rows())
    told = [
        None if day is None else day_start(zones.get(reader, of.zone), day)
        for reader, day in rows.select("reader", "enrolled_on").iter_rows()
    ]
    return rows.select("reader", "number", "told_at", enrolled_at=pl.Series(told, dtype=pl.Int64))
