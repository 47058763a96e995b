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
ENOUGH = 400_000
"""Scores from which the scale is plain; of more, every so-manieth person is asked."""


@dataclass(frozen=True)
class Scale:
    """A monotone scale: `to` takes scores to it and `back` returns them; `says` is its name in words."""

    name: str
    says: str
    to: Callable[[Floats], Floats]
    back: Callable[[Floats], Floats]


SCALES = (
    Scale("log", "logarithm of the score", np.log, np.exp),
    Scale("cube_root", "cube root of the score", np.cbrt, lambda y: np.asarray(y**3)),
    Scale("square_root", "square root of the score", np.sqrt, np.square),
    Scale("plain", "the score itself", np.positive, np.positive),
)


def choose_scale(
    person: npt.NDArray[np.integer], reader: npt.NDArray[np.integer], scores: Floats, people: int, readers: int
) -> Scale:
    """Return the scale that leaves the residuals within person-reader cells least skewed; scores are 0 or more.

    Skewness is (upper - lower) / (upper + lower), distances of the 90th and 10th percentiles from the median, so
    that a tail of other hands and slips does not choose. With zeros among the scores the logarithm is out.
    """
    has_zero = bool((scores <= 0).any())
    if len(scores) > ENOUGH:
        asked = person % -(-len(scores) // ENOUGH) == 0
        person, reader, scores = person[asked], reader[asked], scores[asked]
    layout = lay_out(person, reader, people, readers)
    scores = layout.sort(scores)
    best, least = SCALES[-1], np.inf
    for scale in SCALES:
        if scale.name == "log" and has_zero:
            continue
        y = scale.to(scores)
        residual = y - layout.cells(y).mean[layout.cell]
        low, middle, high = np.quantile(residual, [TAIL, 0.5, 1 - TAIL])
        if high > low and abs(high + low - 2 * middle) / (high - low) < least:
            best, least = scale, abs(high + low - 2 * middle) / (high - low)
    return best
