"""Columns of exact fractions: what money is kept in until it is rounded, once, where the rule says.

Whole numbers of any size stand over whole numbers above zero, so nothing overflows and nothing is approximated.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

__all__ = ["UNITS", "Exact", "rounded_half_up", "whole"]

UNITS = 10_000
"""Money is read and kept to four decimals: an amount is so many units."""

Whole = npt.NDArray[np.object_]
Rows = npt.NDArray[np.intp]


def whole(numbers: pl.Series) -> Whole:
    """Return a column of integers, without nulls, as whole numbers of any size."""
    column = np.empty(len(numbers), dtype=np.object_)
    column[:] = numbers.to_list()
    return column


@dataclass(frozen=True)
class Exact:
    """A column of fractions `top / below`."""

    top: Whole
    below: Whole

    @classmethod
    def zeros(cls, length: int) -> Exact:
        """Return a column of zeros."""
        return cls(np.full(length, 0, np.object_), np.full(length, 1, np.object_))

    def __len__(self) -> int:
        return len(self.top)

    def __add__(self, other: Exact) -> Exact:
        return Exact(self.top * other.below + other.top * self.below, self.below * other.below)

    def __sub__(self, other: Exact) -> Exact:
        return self + Exact(-other.top, other.below)

    def times(self, top: Whole | int, below: Whole | int = 1) -> Exact:
        """Return the column times `top / below`."""
        return Exact(self.top * top, self.below * below)

    def take(self, rows: Rows) -> Exact:
        """Return these rows of the column."""
        return Exact(self.top[rows], self.below[rows])

    def where(self, holds: npt.NDArray[np.bool_], other: Exact) -> Exact:
        """Return the column where `holds`, and `other` elsewhere."""
        return Exact(np.where(holds, self.top, other.top), np.where(holds, self.below, other.below))

    def not_below_zero(self) -> Exact:
        """Return the column with zero in place of what is below it."""
        return Exact(np.maximum(self.top, 0), self.below)

    def smaller(self, other: Exact) -> Exact:
        """Return the smaller of the two in each row."""
        return self.where((self - other).top < 0, other)

    def summed(self, group: Rows, groups: int) -> Exact:
        """Return the sum of each group from 0 to `groups` - 1; `group` is sorted, and a group without rows is 0."""
        sums = Exact.zeros(groups)
        if len(self):
            begins = np.flatnonzero(np.diff(group, prepend=-1))
            one = np.repeat(shared := np.lcm.reduceat(self.below, begins), np.diff(begins, append=len(group)))
            sums.top[group[begins]] = np.add.reduceat(self.top * (one // self.below), begins)
            sums.below[group[begins]] = shared
        return sums

    def rounded(self, units: int) -> list[int]:
        """Return each fraction in whole units of 1 / `units`, rounded once, half up, away from zero where below it."""
        size = (2 * units * np.abs(self.top) + self.below) // (2 * self.below)
        return list(np.where(self.top < 0, -size, size))

    def cents(self) -> pl.Series:
        """Return each amount rounded once to the cent, half up, as decimals."""
        return _decimals(self.rounded(100), 100)

    def four_decimals(self) -> pl.Series:
        """Return each rate to four decimals, for reading only."""
        return _decimals(self.rounded(UNITS), UNITS)


def _decimals(numbers: list[int], units: int) -> pl.Series:
    """Return whole units of 1 / `units` as decimals of the money columns."""
    counted = pl.Series(numbers, dtype=pl.Int128)
    return pl.select((counted.cast(pl.Decimal(38, 4)) / units).cast(pl.Decimal(18, 4))).to_series()


def rounded_half_up(top: pl.Expr, below: pl.Expr) -> pl.Expr:
    """Return the cents of the amount `top / below`, of which neither is below zero, rounded once, half up."""
    return (200 * top + below) // (2 * below)
