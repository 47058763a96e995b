"""Collapse scores into cells of one person at one reader: all that the equations need of them.

Scores stand sorted by cell, so that what is taken or given cell by cell is one pass over them from end to end.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import numpy.typing as npt

__all__ = ["CellLayout", "ScoreCells", "gather", "lay_out", "runs", "sort_keys", "stable_order"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Codes = npt.NDArray[np.integer[Any]]

WIDEST = 62  # bits of key and place in one number, short of the sign
DIGIT, LOWEST = 16, 0xFFFF  # numpy sorts 16-bit codes by counting them, several times as fast as wider ones


@dataclass(frozen=True)
class Together:
    """Cells of one person, two by two: `left` and `right` (pairs,) are their places, `left` the earlier or the same."""

    left: Ints
    right: Ints
    is_same: npt.NDArray[np.bool_]


@dataclass(frozen=True)
class ScoreCells:
    """Cells (cells,) by person and then reader, each by code, with the count of scores and their mean.

    `within` is what is left, squared; `together` says which belong to one person.
    """

    person: Ints
    reader: Ints
    count: Floats
    mean: Floats
    within: float
    people: int
    readers: int
    together: Together

    def by_person(self, values: Floats) -> Floats:
        """Return the sum of values (cells,) of each person."""
        return np.asarray(np.bincount(self.person, weights=values, minlength=self.people), dtype=np.float64)

    def by_reader(self, values: Floats) -> Floats:
        """Return the sum of values (cells,) of each reader."""
        return np.asarray(np.bincount(self.reader, weights=values, minlength=self.readers), dtype=np.float64)

    def among_readers(self, weight: Floats, of_person: Floats) -> Floats:
        """Return the sum over people of `of_person` times w w' (readers square), w their cells' `weight` by reader."""
        pairs, n = self.together, self.readers
        term = weight[pairs.left] * weight[pairs.right] * of_person[self.person[pairs.left]]
        place = self.reader[pairs.left] * n + self.reader[pairs.right]
        upper = np.bincount(place, weights=term, minlength=n * n).reshape(n, n)
        return np.asarray(upper + upper.T - np.diag(np.diag(upper)))

    def quadratic(self, values: Floats, matrix: Floats) -> Floats:
        """Return x' matrix x of each person (people,), x their cells' values and matrix symmetric over the readers."""
        pairs = self.together
        term = values[pairs.left] * values[pairs.right] * matrix[self.reader[pairs.left], self.reader[pairs.right]]
        weights = np.where(pairs.is_same, term, 2 * term)
        return np.asarray(np.bincount(self.person[pairs.left], weights=weights, minlength=self.people))

    def of_people(self, chosen: npt.NDArray[np.bool_]) -> ScoreCells:
        """Return the cells of the chosen people (people,); their share of `within` is taken by count."""
        kept = chosen[self.person]
        n, cells = self.count[kept].sum(), int(kept.sum())
        freedom = self.count.sum() - len(self.count)
        share = (n - cells) / freedom if freedom > 0 else 0.0
        person = (np.cumsum(chosen) - 1)[self.person[kept]]
        return ScoreCells(
            person,
            self.reader[kept],
            self.count[kept],
            self.mean[kept],
            self.within * share,
            int(chosen.sum()),
            self.readers,
            together(person),
        )


def together(person: Ints) -> Together:
    """Return the pairs of cells of one person; cells stand by person."""
    at, lag, pairs = np.arange(len(person)), 0, []
    while len(at):
        pairs.append((at, at + lag))
        lag += 1
        at = at[at + lag < len(person)]
        at = at[person[at + lag] == person[at]]
    left, right = (np.concatenate(side) for side in zip(*pairs, strict=True))
    return Together(left, right, left == right)


@dataclass(frozen=True)
class CellLayout:
    """Scores sorted by person and then reader: cell i holds `count[i]` of them from `starts[i]` on.

    `order` (scores,) sorts what stands as the scores were given; None where they stood sorted.
    """

    order: Ints | None
    person: Ints
    reader: Ints
    starts: Ints
    count: Ints
    people: int
    readers: int

    @cached_property
    def _together(self) -> Together:
        return together(self.person)

    @cached_property
    def cell(self) -> npt.NDArray[np.int32]:
        """Return the cell of each score."""
        return np.repeat(np.arange(len(self.count), dtype=np.int32), self.count)

    def sort(self, values: npt.NDArray[Any]) -> npt.NDArray[Any]:
        """Return values (scores,) sorted by cell."""
        return values if self.order is None else values[self.order]

    def sums(self, values: Floats) -> Floats:
        """Return the sum of sorted values in each cell."""
        return np.asarray(np.add.reduceat(values, self.starts))

    def cells(self, values: Floats) -> ScoreCells:
        """Return the cells with the means of these sorted values."""
        count = self.count.astype(np.float64)
        mean = self.sums(values) / count
        within = max(float(np.einsum("i,i->", values, values) - (count * np.square(mean)).sum()), 0.0)
        return ScoreCells(self.person, self.reader, count, mean, within, self.people, self.readers, self._together)


def lay_out(person: Codes, reader: Codes, people: int, readers: int) -> CellLayout:
    """Return how one or more scores stand by cell; within a cell they keep the order in which they are given."""
    key = person.astype(np.int64) * readers + reader
    order = None
    if (key[1:] < key[:-1]).any():
        order, key = sort_keys(key)
    starts = runs(key)
    return CellLayout(
        order,
        key[starts] // readers,
        key[starts] % readers,
        starts,
        np.diff(starts, append=len(key)),
        people,
        readers,
    )


def runs(sorted_key: Codes) -> Ints:
    """Return where each run of equal keys begins."""
    return np.flatnonzero(np.r_[True, sorted_key[1:] != sorted_key[:-1]])


def sort_keys(key: Ints) -> tuple[Ints, Ints]:
    """Return the order by a key of 0 or more, equal ones as they stood, and the keys in that order.

    Key and place are sorted as one number where that is wide enough: numpy sorts plain numbers by vector instructions,
    several times as fast as it finds an order.
    """
    place = len(key).bit_length()
    if int(key.max(initial=0)).bit_length() + place > WIDEST:
        order = _by_digits(key)
        return order, key[order]
    packed = (key << place) | np.arange(len(key))
    packed.sort()
    return packed & ((1 << place) - 1), packed >> place


def stable_order(key: Codes) -> Ints:
    """Return the order by a key of 0 or more; equal ones stay as they stood."""
    return sort_keys(key.astype(np.int64))[0]


def _by_digits(key: Ints) -> Ints:
    """Return the order by a key that is too wide to be sorted together with its place.

    Source: radix sort by 16-bit digits, the least significant first (Knuth, The Art of Computer Programming 3, 5.2.5).
    """
    order = np.argsort((key & LOWEST).astype(np.uint16), kind="stable")
    for shift in range(DIGIT, int(key.max(initial=0)).bit_length(), DIGIT):
        digit = ((key >> shift) & LOWEST).astype(np.uint16)
        order = order[np.argsort(digit[order], kind="stable")]
    return order


def gather(person: Codes, reader: Codes, values: Floats, people: int, readers: int) -> ScoreCells:
    """Return the cells of plain scores, each person and reader by code from 0."""
    layout = lay_out(person, reader, people, readers)
    return layout.cells(layout.sort(values))
