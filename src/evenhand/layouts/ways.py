"""Which of a log's two marks is in and which is out, told by the log itself: a long pause ends with in.

A mark such as 0 or 1, or a word of no language that is known, means what the workplace meant by it. Nobody works for
longer than some thirteen hours at a stretch as a rule, but nearly everybody pauses for longer: the punch after such a
pause is in, the punch before it out (common practice, no source).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from evenhand.layouts.reading import Cells
from evenhand.layouts.values.civil import read_civil

__all__ = ["tell_ways"]

PAUSE = (13 * 3600, 4 * 86400)  # [s] from and to which a time between two punches of one number is a pause
ENOUGH = 6  # pauses, of as many punches before and after them
CLEAR = 0.9  # of the punches around pauses that agree


def tell_ways(cells: Cells, order: str) -> dict[str, str]:
    """Return what the two marks of a log's direction stand for, {} where its pauses do not tell.

    `order` is that of the dates; rows with a fault, or without a mark, are not looked at.
    """
    if not {"number", "direction"} <= set(cells.coded) or "at" not in cells.moments:
        return {}
    marks, numbers = cells.coded["direction"], cells.coded["number"]
    named = [at for at, mark in enumerate(marks.values) if mark]
    if len({marks.values[at] for at in named}) != 2:
        return {}
    civil = read_civil(cells.moments["at"], order)
    sound = np.flatnonzero((civil.faults == 0) & np.isin(marks.codes, named))
    sequence = sound[np.lexsort((civil.local[sound], numbers.codes[sound]))]
    pauses = np.diff(civil.local[sequence])
    is_pause = (np.diff(numbers.codes[sequence]) == 0) & (pauses >= PAUSE[0]) & (pauses <= PAUSE[1])
    one, other = dict.fromkeys(marks.values[at] for at in named)
    is_one = np.array([mark == one for mark in marks.values], np.bool_)[marks.codes[sequence]]
    return _meant(is_one[1:][is_pause], is_one[:-1][is_pause], one, other)


def _meant(after: npt.NDArray[np.bool_], before: npt.NDArray[np.bool_], one: str, other: str) -> dict[str, str]:
    """Return the meanings, where the marks after pauses (is it `one`?) and before them agree."""
    if len(after) < ENOUGH:
        return {}
    agreed = (after.sum() + (~before).sum()) / (2 * len(after))
    if agreed >= CLEAR:
        return {one: "in", other: "out"}
    return {one: "out", other: "in"} if agreed <= 1 - CLEAR else {}
