"""The scale on which effects add and noise is even: the one whose residuals are least skewed.

Source: Wilson and Hilferty (1931): the cube root of a squared distance is nearly normal; the logarithm is the usual
choice where spreads grow with the level (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.cells import lay_out

__all__ = ["SCALES", "Scale", "choose_scale"]

Floats = npt.NDArray[np.float64]
TAIL = 0.1
ZEROS = 0.1
"""Share of scores of 0 up to which they are a reader's quirk, and the scale is chosen by the others."""
ENOUGH = 400_000
"""Scores from which the scale is plain; of more, every so-manieth person is asked."""


@dataclass(frozen=True)
class Scale:
    """A monotone scale: `to` takes scores to it and `back` returns them; `says` is its name in words."""

    name: str
    says: str
    to: Callable[[Floats], Floats]
    back: Callable[[Floats], Floats]


def _above_zero(scores: Floats) -> Floats:
    """The scores, with half the least one above 0 in place of zeros; nan stays."""
    with np.errstate(invalid="ignore"):
        positive = scores > 0
    if positive.all() or not positive.any():
        return scores
    return np.asarray(np.where(positive | np.isnan(scores), scores, scores[positive].min() / 2))


SCALES = (
    Scale("log", "logarithm of the score", lambda scores: np.log(_above_zero(scores)), np.exp),
    Scale("cube_root", "cube root of the score", np.cbrt, lambda y: np.asarray(y**3)),
    Scale("square_root", "square root of the score", np.sqrt, np.square),
    Scale("plain", "the score itself", np.positive, np.positive),
)


def choose_scale(
    person: npt.NDArray[np.integer], reader: npt.NDArray[np.integer], scores: Floats, people: int, readers: int
) -> Scale:
    """Return the scale that leaves the residuals within person-reader cells least skewed; scores are 0 or more.

    Skewness is (upper - lower) / (upper + lower), distances of the 90th and 10th percentiles from the median, so
    that a tail of other hands and slips does not choose; each score is held against the median of its cell, since
    one far score moves the mean of a small one. Where more than one score in ten is 0 the logarithm is out; else
    zeros count as half the least score above.
    """
    too_many = bool(np.mean(scores <= 0) > ZEROS)
    if len(scores) > ENOUGH:
        asked = person % -(-len(scores) // ENOUGH) == 0
        person, reader, scores = person[asked], reader[asked], scores[asked]
    layout = lay_out(person, reader, people, readers)
    scores = layout.sort(scores)
    best, least = SCALES[-1], np.inf
    for scale in SCALES:
        if scale.name == "log" and too_many:
            continue
        y = scale.to(scores)
        residual = y - _medians(layout.cell, y)[layout.cell]
        low, middle, high = np.quantile(residual, [TAIL, 0.5, 1 - TAIL])
        if high > low and abs(high + low - 2 * middle) / (high - low) < least:
            best, least = scale, abs(high + low - 2 * middle) / (high - low)
    return best


def _medians(cell: npt.NDArray[np.integer], values: Floats) -> Floats:
    """The lower median of each cell's values, which stand by cell."""
    order = np.lexsort((values, cell))
    starts = np.flatnonzero(np.r_[True, np.diff(cell) != 0])
    counts = np.diff(starts, append=len(cell))
    found = np.zeros(int(cell.max()) + 1)
    found[cell[starts]] = values[order][starts + (counts - 1) // 2]
    return found
