"""What is on a round now, and what rounds have done that no reader's list speaks of yet."""

from __future__ import annotations

from datetime import timedelta

import polars as pl

from evenhand.enrolment.rounds import round_states, still_to_do
from evenhand.jobs.reckoning import Reckoning
from evenhand.terms.columns import Frame

__all__ = ["on_rounds_now"]

LOOKED_BACK = timedelta(weeks=4)


def on_rounds_now(reckoning: Reckoning) -> Frame:
    """Return what rounds of today and later still have to do, and what came of other items of the last weeks (STATES).

    What came of an item counts until the reader's list is taken again, which says how things stand then. What a round
    of a day gone by left undone is on no round any more.
    """
    return reckoning.part("on rounds", lambda: _on_rounds(reckoning))


def _on_rounds(reckoning: Reckoning) -> Frame:
    of = reckoning.snapshot
    recent = of.rounds.filter(pl.col("day") >= reckoning.day - LOOKED_BACK).select("round", "day")
    states = round_states(of.round_items.join(recent, on="round", how="semi"), of.outcomes)
    lists = of.enrolment_history.filter(pl.col("gone").is_null()).group_by("reader").agg(pl.col("told_at").max())
    known = states.join(recent, on="round", maintain_order="left").join(
        lists, on="reader", how="left", maintain_order="left"
    )
    is_to_come = still_to_do() & (pl.col("day") >= reckoning.day)
    is_told_since = ~still_to_do() & (pl.col("at") >= pl.col("told_at").fill_null(0))
    return known.filter(is_to_come | is_told_since).select(states.columns)
