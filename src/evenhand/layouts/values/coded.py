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


@dataclass(frozen=True)
class Parsed:
    """The values of a column; a row is faulty where `faults` is not 0, for the reason at that position less 1."""

    values: pl.Series
    faults: Codes
    reasons: list[str]


def encode(column: pl.Series) -> Coded:
    """Return the column's distinct values, in order of appearance, and each row's code."""
    column = column.fill_null("").rechunk()
    encoded = column.to_arrow().dictionary_encode()
    codes = encoded.indices.to_numpy(zero_copy_only=False).astype(np.int32, copy=False)
    texts = encoded.dictionary.to_pylist()
    values = [text.replace("\xa0", " ").strip() for text in texts]
    return Coded(values, codes, column if values == texts else None)


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
