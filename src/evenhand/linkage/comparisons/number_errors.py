"""By which kinds of error a person's number, or one they know, became the stray's."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.roster import NEVER, PeopleColumns
from evenhand.linkage.strays import Ints, StrayColumns
from evenhand.linkage.weights.match_weights import Floats
from evenhand.linkage.weights.parameters import ERROR_KINDS
from evenhand.terms.columns import Frame

__all__ = ["NumberErrors", "former_numbers", "number_errors"]


@dataclass(frozen=True)
class NumberErrors:
    """The kinds of error that fit: which `pair`, which `kind` (a place in ERROR_KINDS), P(number | kind), from what."""

    pair: Ints
    kind: Ints
    likelihood: Floats
    meant: pl.Series


def number_errors(strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, explanations: Frame) -> NumberErrors:
    """Return every kind of error of EXPLANATIONS that fits a pair."""
    every = pl.select(
        keyed=strays.number.gather(pairs.stray),
        person=roster.person.gather(pairs.person),
        pair=pl.int_range(pairs.size, dtype=pl.Int64),
    )
    found = every.join(explanations, on=["keyed", "person"], maintain_order="left_right")
    return NumberErrors(
        pair=found["pair"].to_numpy(),
        kind=found["kind"].cast(pl.Enum(ERROR_KINDS)).to_physical().cast(pl.Int64).to_numpy(),
        likelihood=found["likelihood"].to_numpy(),
        meant=found["meant"],
    )


def former_numbers(strays: StrayColumns, roster: PeopleColumns) -> Floats:
    """Return, a stray, how much likelier its number is among those of people not employed then than at random."""
    came_or_went = (roster.left < NEVER) | (roster.hired > -NEVER)
    bounded = roster.keys().with_columns(hired=pl.Series(roster.hired), left=pl.Series(roster.left))
    bounded = bounded.filter(pl.Series(came_or_went), pl.col("number") != "")
    ends = strays.keys().with_columns(last=pl.Series(strays.last_day))
    gone = ends.join(bounded, on="number").filter(
        (pl.col("left") < pl.col("last")) | (pl.col("hired") > pl.col("last"))
    )
    is_former = np.isin(np.arange(strays.size), gone["stray"].to_numpy())
    leavers = max(int(((roster.left < NEVER) & (roster.left <= strays.last_day.max(initial=0))).sum()), 1)
    by_random = 10.0 ** strays.number.str.len_chars().cast(pl.Float64).to_numpy()
    return np.where(is_former, by_random / leavers, 0.0)
