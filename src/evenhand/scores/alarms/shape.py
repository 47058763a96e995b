"""Step or drift: whether a change came at once or grew.

A step is a ring, a bandage, a moved part or a smear; a drift is weight, age, season or dirt that gathers. Both are
fitted in all their ways, and one is named where it explains the days so much better that it is likely by itself.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
import numpy.typing as npt

from evenhand.scores.paths import likely_paths

__all__ = ["Shape", "shape_of"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Shape = Literal["step", "drift", "unclear"]

FEWEST = 4
"""Points since the change from which its shape is named."""
SURE = 0.8
"""Chance of one shape, both being as likely beforehand, from which it is named."""
BEFORE = 60
"""Days before the chart began to rise that tell what the level was."""


def shape_of(level: Floats, variance: Floats, begins: int, ends: int) -> tuple[Shape, int]:
    """Return whether a level (days,) stepped up or drifted up, and from which day on.

    It is nan on days without a value. Looked at are the days up to `ends`, which a chart that began to rise on the day
    `begins` tells of, and the weeks before.
    """
    day = np.flatnonzero(~np.isnan(level[: ends + 1]))
    day = day[day >= begins - BEFORE]
    if len(day) < 2 * FEWEST:
        return "unclear", begins
    paths = likely_paths(day, level[day], variance[day], fewest=1)
    since = int(paths.begins[np.argmax(paths.weight)])
    if len(day) - since < FEWEST or 1 - SURE < paths.drift < SURE:
        return "unclear", begins
    return ("drift" if paths.drift >= SURE else "step"), int(day[since])
