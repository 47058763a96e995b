"""Shifts over the first or the last day of employment: each belongs whole to whoever held the number as it began.

Source: common practice, no source; time worked is owed to whoever worked it (29 CFR 785.11 to 785.13).
"""

from __future__ import annotations

import polars as pl

from evenhand.reconcile.holdings import BEGINNING, END
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy
from evenhand.terms.stretches import stretches
from evenhand.terms.zones import DAY_S

__all__ = ["held_as_of", "shifts_begin"]

AROUND_S = 2 * DAY_S
"""How far around a change of holders punches are looked at: no shift lasts longer."""


def held_as_of(recorded: Frame, spans: Frame, policy: Policy) -> pl.Series:
    """Return for each row of `recorded` the instant that decides who held its number: when its shift began.

    That is its own instant, but for accepted punches near a change of holders: of `spans` (`sole_holdings`) a bound
    that lies near them. Refused presentations begin and end no shift.
    """
    at = recorded["at"]
    edges = _edges(spans, at)
    accepted = pl.col("outcome").fill_null("accepted") == "accepted"
    told = recorded.select("punch", "number", "at", "direction", "outcome").with_row_index("row")
    near = (
        told.filter(pl.col("number").is_in(edges["number"].unique().implode()), accepted)
        .join(edges, on="number")
        .filter((pl.col("at") - pl.col("edge")).abs() <= AROUND_S)
        .unique("row")
    )
    if near.is_empty():
        return at
    begun = shifts_begin(near.drop("edge", "outcome"), ["number"], policy).select("row", "begins")
    return told.join(begun, on="row", how="left", maintain_order="left").select(pl.coalesce("begins", "at")).to_series()


def shifts_begin(punches: Frame, by: list[str], policy: Policy) -> Frame:
    """Return `punches` (punch, at, direction, the columns `by`) by these and time, each with when its shift `begins`.

    A shift is a stretch of work (`stretches`) within which marks do not contradict each other: two starts, or two
    ends, are of two shifts.
    """
    parted = stretches(punches, by, policy)
    contradicts = (pl.col("direction") == pl.col("direction").shift(1)) & (pl.col("turn") != pl.col("turn").shift(1))
    another = (pl.col("stretch") != pl.col("stretch").shift(1)) | contradicts
    shift = another.fill_null(value=False).cum_sum()
    return parted.with_columns(begins=pl.col("at").first().over(shift)).drop("stretch", "turn", "way")


def _edges(spans: Frame, at: pl.Series) -> Frame:
    """The bounds of spans near which something was punched: number and `edge`."""
    first, last = at.min(), at.max()
    bounds = pl.concat([spans.select("number", edge="starts"), spans.select("number", edge="ends")]).unique()
    if first is None or last is None:
        return bounds.clear()
    near = pl.col("edge").is_between(first - AROUND_S, last + AROUND_S)  # type: ignore[operator]
    return bounds.filter(near, ~pl.col("edge").is_in([BEGINNING, END]))
