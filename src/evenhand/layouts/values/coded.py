"""A column as its distinct values: each is parsed once, however many rows hold it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl

__all__ = ["Coded", "Codes", "Parsed", "Unfit", "encode", "parse_each"]

Codes = npt.NDArray[np.int32]


class Unfit(Exception):  # noqa: N818  (an answer about one cell, turned into a refused row)
    """Why a cell's text is no value of its column, and what to do, in one sentence."""


@dataclass(frozen=True)
class Coded:
    """For each row the position of its text in `values`; values are stripped, and need not be distinct.

    `column` is the text they came from, where stripping changed nothing.
    """

    values: list[str]
    codes: Codes
    column: pl.Series | None = None

    @property
    def height(self) -> int:
        """Return the number of rows."""
        return len(self.codes)

    def text(self, row: int) -> str:
        """Return the text of one row."""
        return self.values[int(self.codes[row])]

    def texts(self, rows: npt.NDArray[np.int64]) -> pl.Series:
        """Return the texts of some rows."""
        return pl.Series(self.values, dtype=pl.String).gather(self.codes[rows])


@dataclass(frozen=True)
class Parsed:
    """The values of a column; a row is faulty where `faults` is not 0, for the reason at that position less 1."""

    values: pl.Series
    faults: Codes
    reasons: list[str]

    def why(self, rows: npt.NDArray[np.int64]) -> pl.Series:
        """Return the reasons of some rows that are faulty."""
        return pl.Series(self.reasons, dtype=pl.String).gather(self.faults[rows] - 1)


def encode(column: pl.Series) -> Coded:
    """Return the column's distinct values, in order of appearance, and each row's code."""
    column = column.fill_null("")
    # Categories of their own number the texts from 0 on, in one pass over the column.
    categories = column.cast(pl.Categorical(pl.Categories.random()))
    distinct = categories.unique(maintain_order=True)
    position = np.zeros(distinct.len(), np.int32)
    position[distinct.to_physical().to_numpy()] = np.arange(distinct.len(), dtype=np.int32)
    texts = distinct.cast(pl.String).to_list()
    values = [text.replace("\xa0", " ").strip() for text in texts]
    return Coded(values, position[categories.to_physical().to_numpy()], column if values == texts else None)


def parse_each(coded: Coded, parse: Callable[[str], Any], dtype: pl.DataType) -> Parsed:
    """Return each row's value by `parse`, which gives None for an empty cell and raises Unfit for a bad one."""
    values: list[Any] = []
    faults = np.zeros(len(coded.values), dtype=np.int32)
    reasons: list[str] = []
    for position, text in enumerate(coded.values):
        try:
            values.append(parse(text))
        except Unfit as unfit:
            values.append(None)
            reasons.append(str(unfit))
            faults[position] = len(reasons)
    if coded.column is not None and dtype == pl.String and _says_the_same(values, coded.values, faults):
        typed = coded.column  # nothing to change; what is faulty is refused with its row
    else:
        typed = pl.Series(values, dtype=dtype).gather(pl.Series(coded.codes))
    return Parsed(typed, faults[coded.codes] if reasons else np.zeros(coded.height, dtype=np.int32), reasons)


def _says_the_same(values: list[Any], texts: list[str], faults: Codes) -> bool:
    return all(value == text or fault for value, text, fault in zip(values, texts, faults.tolist(), strict=True))
