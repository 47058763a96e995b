"""Which numbers of a round stay on their readers for now, by what the store tells of who is seen where."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import timedelta

import polars as pl

from evenhand import reconcile
from evenhand.enrolment.rounds import round_states
from evenhand.enrolment.taking_off import (
    AtReaders,
    HeldBack,
    at_readers,
    enrolments_awaited,
    numbers_before,
    taken_too_soon,
    turns_held,
)
from evenhand.jobs.at_turn import TOGETHER, WAITS
from evenhand.jobs.consents import another_way, hands_given
from evenhand.jobs.reckoning import Reckoning
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.consent import unreleased
from evenhand.terms.rounds import OUTCOMES, ROUND_ITEMS
from evenhand.terms.zones import day_start

__all__ = [
    "BEFORE_TURNS",
    "KNOWN_BEFORE",
    "TakingOff",
    "as_states",
    "before_turns",
    "states_told",
    "steps_told",
    "taking_off",
    "until_decided",
]

BEFORE_TURNS = Table(
    "before_turns",
    "What is to be known before a turn of a round, in words",
    (
        Column("item", "text", "Of which item", required=True),
        Column("waits", "text", "Why it is left undone for now; empty where it can be done"),
        Column("together", "text", "With whom it is done in one visit, and how; empty where it is done by itself"),
    ),
    key=("item",),
)
KNOWN_BEFORE = tuple(column for column in BEFORE_TURNS.columns if column.name != "item")

LOOKED_BACK = timedelta(weeks=8)
"""For so long a punch tells that a number is in use, or that somebody is seen under their own."""


@dataclass(frozen=True)
class TakingOff:
    """By item of a round: why it waits (`held`), which items must not have failed since, which are done `together`.

    `too_soon` are those that took a number off whose owner is not seen under their own, so that none may work for them;
    `begun` those of a visit in which another's turn was tried, so that their hand may have come off. `numbers` are by
    reader those it held before the round, `capacity` how many it holds at most where that is known, and `names` whom
    each item is for.
    """

    held: Mapping[str, HeldBack] = field(default_factory=dict)
    awaited: Mapping[str, list[str]] = field(default_factory=dict)
    too_soon: frozenset[str] = frozenset()
    together: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    begun: frozenset[str] = frozenset()
    takes: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    numbers: Mapping[str, Collection[str]] = field(default_factory=dict)
    capacity: Mapping[str, int] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)

    def room(self, reader: str) -> int | None:
        """Return how many places a reader had free before the round; None where that is not known."""
        most = self.capacity.get(reader)
        return None if most is None else most - len(self.numbers.get(reader, ()))

    def beside(self, item: str) -> str:
        """Return the names of who else must be there, where the item is done in one visit with others."""
        return "; ".join(self.names[one] for one in self.together.get(item, ()) if one != item)


def taking_off(reckoning: Reckoning, states: Frame) -> TakingOff:
    """Return what of a round's items (STATES) must not be taken off its reader yet."""
    if states.is_empty():
        return TakingOff()
    of = reckoning.snapshot
    known = _at_readers(reckoning, states)
    every = round_states(of.round_items, of.outcomes)
    turns = turns_held(states, every, known)
    return TakingOff(
        held=dict(_consent_first(turns.held, states, unreleased(hands_given(reckoning).states))),
        awaited=enrolments_awaited(states, known, turns.together),
        too_soon=taken_too_soon(states, every, known),
        together=turns.together,
        begun=turns.begun,
        takes=turns.takes,
        numbers={reader: numbers_before(reader, states, every, known) for reader in states["reader"].unique()},
        capacity=known.capacity,
        names=dict(states.select("item", pl.coalesce("name", "number")).iter_rows()),
    )


def _consent_first(
    held: Mapping[str, HeldBack], states: Frame, undecided: Collection[str]
) -> Iterator[tuple[str, HeldBack]]:
    """Yield what is held back, where a reader is full for somebody undecided with the word of theirs that is wanted."""
    whose = {row["item"]: row for row in states.iter_rows(named=True)}
    for item, one in held.items():
        who = whose[item]
        is_first = one.why == "full" and who["person"] in undecided
        yield item, HeldBack("undecided", who["name"] or who["number"], who["number"]) if is_first else one


def until_decided(off: TakingOff, states: Frame, undecided: Collection[str]) -> TakingOff:
    """Return the same with nobody's hand taken off before they have decided.

    Whoever is to be enrolled in one visit with somebody at an item that is `undecided` waits for them.
    """
    of_item = {row["item"]: row for row in states.iter_rows(named=True)}
    open_with = {item: [one for one in ring if one in undecided] for item, ring in off.together.items()}
    waits = {
        item: HeldBack("unseen", off.names[ones[0]], of_item[ones[0]]["number"])
        for item, ones in open_with.items()
        if ones and item not in undecided
    }
    whole = {item: ring for item, ring in off.together.items() if not open_with[item]}
    return replace(off, held={**off.held, **waits}, together=whole)


def steps_told(reckoning: Reckoning, steps: Frame, say: Callable[[str], str] = str) -> Frame:
    """Return the steps at one reader (READER_STEPS) with KNOWN_BEFORE each, in words that `say` tells, as a round's."""
    told = states_told(reckoning, as_states(steps), say).select("position", "waits", "together")
    return steps.join(told, on="position", how="left", maintain_order="left")


def states_told(reckoning: Reckoning, states: Frame, say: Callable[[str], str] = str) -> Frame:
    """Return a round's items (STATES) with KNOWN_BEFORE each, in words that `say` tells."""
    return states.join(before_turns(taking_off(reckoning, states), say), on="item", how="left", maintain_order="left")


def before_turns(off: TakingOff, say: Callable[[str], str] = str) -> Frame:
    """Return what is to be known before the items that wait or are done together (BEFORE_TURNS)."""
    waits = {item: say(WAITS[one.why]).format(name=one.name, number=one.number) for item, one in off.held.items()}
    together = {item: say(TOGETHER).format(names=off.beside(item)) for item in off.together}
    return BEFORE_TURNS.rows(
        {"item": item, "waits": waits.get(item), "together": together.get(item)} for item in waits | together
    )


def as_states(steps: Frame) -> Frame:
    """Return steps (READER_STEPS) as a round of them stands before it begins (STATES)."""
    told = ("reader", "position", "action", "number", "person", "name")
    items = ROUND_ITEMS.rows(
        {name: row[name] for name in told} | {"item": f"step {place}", "round": "", "language": "en"}
        for place, row in enumerate(steps.iter_rows(named=True))
    )
    return round_states(items, OUTCOMES.empty())


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
    places = of.readers.filter(here, pl.col("capacity").is_not_null()).select("reader", "capacity")
    return at_readers(
        _accepted(reckoning, readers), standings, _listed(reckoning, readers), told, dict(places.iter_rows())
    )


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
