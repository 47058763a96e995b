"""Collapse scores into cells of one person at one reader: all that the equations need of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import numpy as np
import numpy.typing as npt

__all__ = ["Cells", "gather", "index_cells", "with_values"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

LARGE = 500_000
"""Scores from which finding the cells is compiled; importing the compiler costs about a second."""


@dataclass(frozen=True)
class Cells:
    """Cells (cells,): person and reader codes, count of scores and their mean; `within` is what is left, squared."""

    person: Ints
    reader: Ints
    count: Floats
    mean: Floats
    within: float
    people: int
    readers: int

    def of_people(self, chosen: npt.NDArray[np.bool_]) -> Cells:
        """Return the cells of the chosen people (people,); their share of `within` is taken by count."""
        kept = chosen[self.person]
        renumbered = np.cumsum(chosen) - 1
        n, cells = self.count[kept].sum(), int(kept.sum())
        freedom = self.count.sum() - len(self.count)
        share = (n - cells) / freedom if freedom > 0 else 0.0
        return Cells(
            renumbered[self.person[kept]],
            self.reader[kept],
            self.count[kept],
            self.mean[kept],
            self.within * share,
            int(chosen.sum()),
            self.readers,
        )


def gather(person: npt.NDArray[Any], reader: npt.NDArray[Any], values: Floats, people: int, readers: int) -> Cells:
    """Return the cells of plain scores, each person and reader by code from 0."""
    index, cell_person, cell_reader = index_cells(person, reader, readers)
    count = np.bincount(index, minlength=len(cell_person)).astype(np.float64)
    empty = Cells(cell_person, cell_reader, count, np.zeros(len(count)), 0.0, people, readers)
    return with_values(empty, index, values)


def with_values(cells: Cells, index: npt.NDArray[Any], values: Floats) -> Cells:
    """Return the cells with the means of these values, whose cells are `index`."""
    mean = np.bincount(index, weights=values, minlength=len(cells.count)) / cells.count
    within = float(np.square(values).sum() - (cells.count * np.square(mean)).sum())
    return replace(cells, mean=mean, within=max(within, 0.0))


def index_cells(
    person: npt.NDArray[Any], reader: npt.NDArray[Any], readers: int
) -> tuple[npt.NDArray[np.int32], Ints, Ints]:
    """Return each score's cell, and each cell's person and reader."""
    if len(person) < LARGE:
        keys, index = np.unique(person.astype(np.int64) * readers + reader, return_inverse=True)
        return index.astype(np.int32), keys // readers, keys % readers
    keys, index = _hashed()(person, reader, readers)
    return index, keys // readers, keys % readers


@cache
def _hashed() -> Any:
    """Number the distinct keys with an open hash table: a tenth of the time that sorting ten million takes."""
    from numba import njit

    def number(person: Any, reader: Any, readers: int) -> Any:  # pragma: no cover - compiled
        mask = (1 << 16) - 1
        slots = np.full(mask + 1, -1, np.int64)
        keys = np.empty(1 << 15, np.int64)
        index = np.empty(len(person), np.int32)
        n = 0
        for i in range(len(person)):
            key = np.int64(person[i]) * readers + reader[i]
            place = (key * np.int64(-7046029254386353131) >> np.int64(20)) & mask
            while slots[place] >= 0 and keys[slots[place]] != key:
                place = (place + 1) & mask
            if slots[place] < 0:
                slots[place] = n
                keys[n] = key
                n += 1
                if n == len(keys):
                    mask = 2 * mask + 1
                    slots = np.full(mask + 1, -1, np.int64)
                    more = np.empty(2 * n, np.int64)
                    more[:n] = keys
                    keys = more
                    for j in range(n):
                        at = (keys[j] * np.int64(-7046029254386353131) >> np.int64(20)) & mask
                        while slots[at] >= 0:
                            at = (at + 1) & mask
                        slots[at] = j
                    place = (key * np.int64(-7046029254386353131) >> np.int64(20)) & mask
                    while keys[slots[place]] != key:
                        place = (place + 1) & mask
            index[i] = slots[place]
        return keys[:n].copy(), index

    try:
        return njit(cache=True, nogil=True)(number)
    except RuntimeError:  # no place to keep compiled code: compile for this run alone
        return njit(nogil=True)(number)
