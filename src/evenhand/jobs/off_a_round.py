"""Take steps back off a round that nobody has begun: each is put aside with who, and can be put on a round anew."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from datetime import datetime

import polars as pl

from evenhand.enrolment.rounds import round_states, still_to_do
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.taking_off import taking_off
from evenhand.jobs.today import find_standing
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.decisions import decide_alone
from evenhand.store.rounds import add_outcomes
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.rounds import OFF_ROUND

__all__ = ["open_items", "refuse_apart", "steps_on_round", "take_off_round"]


def take_off_round(
    workspace: Workspace, reckoning: Reckoning, name: str, items: Sequence[str], *, author: str, as_of: datetime
) -> Frame:
    """Take items back off a round, all or none, and return them (STATES) as they were.

    With one that is done in one visit with others, their hands under each other's numbers, go all of these: any of them
    alone would put out the only hand of another. They stay in the record as not done, with who took them off.

    Raises Refusal where nobody says who, where the round has no such item, and where something has come of one at the
    reader already: that is put aside there.
    """
    if not author.strip():
        raise Refusal(told("steps are taken off a round by somebody; say who."))
    with workspace.store.writing() as conn:
        decide_alone(conn)
        states = round_states(frames.round_items(conn, name), frames.outcomes(conn, name))
        if not items or not set(items) <= set(states["item"]):
            raise Unknown(told("round {name} has no such step; nothing was changed.", name=name))
        together = taking_off(reckoning, states).together
        ring = {one for item in items for one in together.get(item, ())}
        meant = states.filter(pl.col("item").is_in([*items, *ring]))
        off = meant.filter(pl.col("reason") == OFF_ROUND)
        if off.height:
            raise Refusal(
                told(
                    "number {number} at {reader} is off the round already. Nothing was changed.",
                    number=off["number"][0],
                    reader=off["reader"][0],
                )
            )
        begun = meant.filter(pl.col("at").is_not_null())
        if begun.height:
            raise Refusal(
                told(
                    "number {number} at {reader} was begun on the round already; put it aside there. Nothing was "
                    "changed.",
                    number=begun["number"][0],
                    reader=begun["reader"][0],
                )
            )
        made_at = int(as_of.timestamp())
        said = {"result": "not_done", "reason": OFF_ROUND, "author": author.strip(), "made_at": made_at}
        nothing = dict.fromkeys(("presentations", "scores", "other_way"))
        add_outcomes(
            conn,
            [
                {**said, **nothing, "outcome": f"desk-{secrets.token_hex(8)}", "item": item, "received_at": made_at}
                for item in meant["item"]
            ],
        )
    return meant


def steps_on_round(reckoning: Reckoning, reader: str, number: str, person: str) -> tuple[str, list[str]]:
    """Return the next round that has steps for a person or a number at a reader, and the steps.

    Raises Unknown where none has, and Refusal where the number and the person named are not of one hand there.
    """
    which = (pl.col("reader") == reader) & ((pl.col("person") == person) | (pl.col("number") == number))
    theirs = (
        open_items(reckoning)
        .filter(which)
        .join(reckoning.snapshot.rounds.select("round", "day"), on="round", maintain_order="left")
    )
    if theirs.is_empty():
        raise Unknown(
            told(
                "no round has a step for {number} at {reader} any longer; nothing was changed.",
                number=number,
                reader=reader,
            )
        )
    if person and number:
        refuse_apart(reckoning, reader, number, person, reckoning.snapshot.round_items)
    name = theirs.sort("day", "round")["round"][0]
    return name, theirs.filter(pl.col("round") == name)["item"].to_list()


def refuse_apart(reckoning: Reckoning, reader: str, number: str, person: str, rows: Frame) -> None:
    """Refuse a number that is not of a person's hand at a reader.

    It is where `rows` (with reader, number and person) or what roster and readers disagree on name them beside it.
    """
    both = (pl.col("reader") == reader) & (pl.col("number") == number) & (pl.col("person") == person)
    if rows.filter(both).height or find_standing(reckoning, reckoning.period()).discrepancies.filter(both).height:
        return
    raise Refusal(
        told(
            "number {number} at {reader} is not told to be of the hand of {person}, so nothing was changed; open the "
            "page again.",
            number=number,
            reader=reader,
            person=person,
        )
    )


def open_items(reckoning: Reckoning) -> Frame:
    """Return what rounds of today and later still have to do (STATES)."""
    of = reckoning.snapshot
    items = of.round_items.join(of.rounds.filter(pl.col("day") >= reckoning.day), on="round", how="semi")
    return round_states(items, of.outcomes).filter(still_to_do())
