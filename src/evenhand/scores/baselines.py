"""A new scale half-way: a changed threshold, a changed program in the reader, or another reader under its name.

A break moves everybody at a reader at once, by a factor no dirt explains, and for good; a new baseline is offered.
A moved threshold shows otherwise: see `moved_threshold`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.scores.effects.fit import MAD
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told

__all__ = ["BaselineBreak", "find_scale_breaks"]

Floats = npt.NDArray[np.float64]

FACTOR = 2.0
"""Scores that change by less than this factor may have changed by dirt or cleaning."""
FEWEST_PEOPLE = 5
FEWEST_SCORES = 3
NEARLY_ALL = 0.9
SIDE = 3


@dataclass(frozen=True)
class BaselineBreak:
    """From `day` on a reader's scores are `factor` times what they were, or its threshold is."""

    reader: str
    day: date
    kind: Literal["scale", "threshold"]
    factor: float
    people: int
    says: str


def find_scale_breaks(presented: Frame) -> list[BaselineBreak]:
    """Return the breaks of scale in screened scores (PRESENTED), at most one a reader, by reader."""
    scored = presented.filter(pl.col("score") > 0)
    daily = scored.group_by("reader", "day").agg(level=pl.col("score").log().median()).sort("reader", "day")
    found = []
    for (reader,), days in daily.group_by("reader", maintain_order=True):
        at = _split(days["level"].to_numpy())
        if at is not None:
            found.append(_of_reader(str(reader), days["day"][at], scored.filter(pl.col("reader") == reader)))
    return sorted((one for one in found if one is not None), key=lambda one: one.reader)


def _of_reader(reader: str, day: date, rows: Frame) -> BaselineBreak | None:
    paired = (
        rows.with_columns(is_after=pl.col("day") >= day, y=pl.col("score").log())
        .group_by("person", "is_after")
        .agg(pl.col("y").median(), n=pl.len())
        .filter(pl.col("n") >= FEWEST_SCORES)
        .pivot("is_after", index="person", values="y")
    )
    if paired.height == 0 or not {"true", "false"} <= set(paired.columns):
        return None
    change = (paired["true"] - paired["false"]).drop_nulls().to_numpy()
    if len(change) < FEWEST_PEOPLE:
        return None
    middle = float(np.median(change))
    same_way = float(np.mean(np.sign(change) == np.sign(middle)))
    if abs(middle) < np.log(FACTOR) or same_way < NEARLY_ALL:
        return None
    factor = float(np.exp(middle))
    says = told(
        "From {day} on, scores at {reader} are {factor:.2g} times what they were, for {people} people at "
        "once: another scale, by a changed setting, program or reader. Start a new baseline that day; earlier scores "
        "are left out until then.",
        day=day,
        reader=reader,
        factor=factor,
        people=len(change),
    )
    return BaselineBreak(reader, day, "scale", factor, len(change), says)


def _split(level: Floats) -> int | None:
    """The first day of the new level: where means differ most, and all days agree with their own side."""
    n = len(level)
    if n < 2 * SIDE:
        return None
    at = max(range(SIDE, n - SIDE + 1), key=lambda i: _gain(level, i))
    before, after = level[:at], level[at:]
    jump = float(np.median(after) - np.median(before))
    rest = np.concatenate([before - np.median(before), after - np.median(after)])
    spread = MAD * float(np.median(np.abs(rest)))
    # dirt grows and wears off: on the very days around it, a break is as large as it will ever be
    around = float(np.median(level[at : at + SIDE]) - np.median(level[at - SIDE : at]))
    if abs(jump) < max(np.log(FACTOR), 5 * spread) or around / jump < 0.7:
        return None
    return int(at)


def _gain(level: Floats, at: int) -> float:
    before, after = level[:at], level[at:]
    return float(len(before) * len(after) / len(level) * (after.mean() - before.mean()) ** 2)
