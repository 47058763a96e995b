"""Put what mends one hand at a reader on the next round there, or on one of its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

import polars as pl

from evenhand.enrolment.rounds import last_running, round_states, still_to_do
from evenhand.jobs.added_turns import spoken_languages
from evenhand.jobs.consents import hands_given
from evenhand.jobs.doable import off_as_planned
from evenhand.jobs.enrolment_day import AskedDay
from evenhand.jobs.keeping_rounds import free_round_name, keep_round
from evenhand.jobs.off_a_round import open_items, refuse_apart
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.taking_off import as_states
from evenhand.jobs.today import find_standing
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.decisions import decide_alone
from evenhand.store.rounds import add_items
from evenhand.terms.columns import Frame
from evenhand.terms.consent import unreleased
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.rounds import OFF_ROUND, ROUND_ITEMS

__all__ = ["PutOnRound", "put_on_round"]


@dataclass(frozen=True)
class PutOnRound:
    """The round that steps at a reader were put on, whether it was made for them, and the items."""

    name: str
    day: date
    is_new: bool
    items: Frame


def put_on_round(
    workspace: Workspace, reckoning: Reckoning, reader: str, number: str, person: str, *, author: str, as_of: datetime
) -> PutOnRound:
    """Put the reader's steps for a person's hand, and for the number it stands under, on the next round there.

    That is one of today or later that still has something to do at the reader; where there is none, one is made for
    tomorrow. With somebody whose hand stands under another's number, round to their own, go all of these: they are
    enrolled in one visit or not at all, on the round that has some of them already. Raises Refusal where the reader has
    no such step, where the number is not of the person's hand there, and where it is on a round already.
    """
    if not author.strip():
        raise Refusal(told("steps are put on a round by somebody; say who."))
    mine = (pl.col("person") == person) & (pl.col("action") != "remove")
    there = find_standing(reckoning, reckoning.period()).steps.filter(pl.col("reader") == reader)
    asked = there.filter(mine | (pl.col("number") == number))
    steps, ring = _with_ring(reckoning, there, asked)
    if steps.is_empty():
        raise Refusal(
            told(
                "{reader} has no step for {number}; its page says what is to be done there. Nothing was changed.",
                reader=reader,
                number=number or person,
            )
        )
    refuse_apart(reckoning, reader, number, person, asked)
    is_enrolling = steps.filter(pl.col("action") != "remove").height > 0
    without = unreleased(hands_given(reckoning).states)
    lacking = next((one for one in dict.fromkeys([person, *ring]) if one in without), None)
    if lacking is not None and is_enrolling:
        raise Refusal(
            told(
                "no release of {person} is in force, so no hand of theirs is to be enrolled; print their "
                "sheet on Consent first. Nothing was changed.",
                person=lacking,
            )
        )
    to_do, what = open_items(reckoning), ["reader", "action", "number"]
    theirs = to_do.join(asked, on=what, how="semi")
    if theirs.height:
        raise Refusal(
            told(
                "{reader}: this is on round {name} already; nothing was changed.",
                reader=reader,
                name=theirs["round"][0],
            )
        )
    of, next_days = reckoning.snapshot, reckoning.day + timedelta(days=1)
    spoken = spoken_languages(of)
    # also one of which everything there was taken off again before anybody began it
    left = round_states(of.round_items, of.outcomes).filter(pl.col("reader") == reader, pl.col("reason") == OFF_ROUND)
    going_on = {*to_do.filter(pl.col("reader") == reader)["round"], *left["round"]}
    coming = of.rounds.filter(pl.col("day") >= reckoning.day, pl.col("round").is_in(going_on))
    beside = to_do.join(steps, on=what, how="semi")
    if beside.height:  # others of a ring are on a round already: the rest joins them
        coming = coming.filter(pl.col("round") == beside["round"][0])
        steps = steps.join(to_do, on=what, how="anti", maintain_order="left")
    if coming.is_empty():
        name = free_round_name(of, next_days)
        items = _items(steps, name, of.round_items.clear(), spoken)
        keep_round(
            workspace,
            name,
            AskedDay(next_days, sentence("Steps of cases"), attended=False),
            author.strip(),
            as_of,
            items,
        )
        return PutOnRound(name, next_days, is_new=True, items=items)
    name, day = coming.sort("day", "round").select("round", "day").row(0)
    with workspace.store.writing() as conn:
        decide_alone(conn)
        held = frames.round_items(conn, name)
        items = _items(steps, name, held, spoken)
        open_there = round_states(held, frames.outcomes(conn, name)).filter(still_to_do())
        if open_there.join(items, on=["reader", "action", "number"], how="semi").height:
            raise Refusal(
                told("{reader}: this was put on round {name} meanwhile; nothing was changed.", reader=reader, name=name)
            )
        add_items(conn, items)
    return PutOnRound(name, day, is_new=False, items=items)


def _with_ring(reckoning: Reckoning, there: Frame, asked: Frame) -> tuple[Frame, list[str]]:
    """Return the steps asked for, with those of a reader (READER_STEPS) that are done in one visit with one of them.

    And who comes in that visit.
    """
    states = as_states(there)
    together = off_as_planned(reckoning, states).together
    mine = states.join(asked, on=["action", "number"], how="semi")["item"]
    ring = {one for item in mine for one in together.get(item, ())}
    meant = states.filter(pl.col("item").is_in([*mine, *ring]))
    people = states.filter(pl.col("item").is_in(list(ring)))["person"].drop_nulls().to_list()
    return there.join(meant, on=["action", "number"], how="semi", maintain_order="left"), people


def _items(steps: Frame, name: str, held: Frame, spoken: Mapping[str, str]) -> Frame:
    """Return the steps as items after those the round holds, in the reader's order: enrolled before taken off.

    `spoken` are the languages of whoever is spoken to in another than English.
    """
    running = last_running(held)
    places: dict[str, int] = dict(held.group_by("reader").agg(pl.col("position").max()).iter_rows())
    rows: list[Mapping[str, Any]] = []
    for row in steps.sort("reader", "position").iter_rows(named=True):
        running += 1
        places[row["reader"]] = places.get(row["reader"], 0) + 1
        told = {column: row[column] for column in ("reader", "action", "number", "person", "name")}
        language = spoken.get(row["person"], "en")
        rows.append(
            told | {"item": f"{name}-{running}", "round": name, "position": places[row["reader"]], "language": language}
        )
    return ROUND_ITEMS.rows(rows)
