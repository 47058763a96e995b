"""A column as its distinct values: each is parsed once, however many rows hold it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl

__all__ = ["Coded", "Codes", "Parsed", "Unfit", "encode", "encode_all", "parse_each"]

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
    return encode_all({"": column})[""]


def encode_all(columns: Mapping[str, pl.Series]) -> dict[str, Coded]:
    """Return several columns of one height as `encode` does, worked out at once on all cores."""
    if not columns:
        return {}
    texts = pl.concat(
        [column.fill_null("").alias(name).to_frame() for name, column in columns.items()], how="horizontal"
    )
    # Categories of a column's own number its texts in one pass over it.
    numbered = texts.select(pl.col(name).cast(pl.Categorical(pl.Categories.random())) for name in columns)
    distinct = numbered.select(pl.all().unique(maintain_order=True).implode())
    return {name: _coded(texts[name], numbered[name], distinct[name][0]) for name in columns}


def _coded(column: pl.Series, numbered: pl.Series, distinct: pl.Series) -> Coded:
    numbers = distinct.to_physical().to_numpy()
    texts = distinct.cast(pl.String)
    values = texts.to_list()
    if is_padded := texts.str.contains(r"[\s\x1c-\x1f]$|^[\s\x1c-\x1f]|\xa0").any():
        values = [text.replace("\xa0", " ").strip() for text in values]
    codes = numbered.to_physical().to_numpy().view(np.int32)
    if not np.array_equal(numbers, np.arange(len(numbers))):  # they are numbered in order of appearance, or nearly so
        position = np.zeros(int(numbers.max()) + 1, np.int32)
        position[numbers] = np.arange(len(numbers), dtype=np.int32)
        codes = position[codes]
    return Coded(values, codes, None if is_padded else column)


def parse_each(coded: Coded, parse: Callable[[str], Any], dtype: pl.DataType, as_is: str = "") -> Parsed:
    """Return each row's value by `parse`, which gives None for an empty cell and raises Unfit for a bad one.

    Texts that the pattern `as_is` fits are their own values, and are not parsed.
    """
    values: list[Any] = list(coded.values)
    faults = np.zeros(len(coded.values), dtype=np.int32)
    reasons: list[str] = []
    texts = pl.Series(values, dtype=pl.String)
    others = ~texts.str.contains(as_is) if as_is else texts.is_not_null()
    for position in others.arg_true():
        try:
            values[position] = parse(values[position])
        except Unfit as unfit:
            values[position] = None
            reasons.append(str(unfit))
            faults[position] = len(reasons)
    if coded.column is not None and dtype == pl.String and _says_the_same(values, coded.values, faults):
        typed = coded.column  # nothing to change; what is faulty is refused with its row
    else:
        typed = pl.Series(values, dtype=dtype).gather(pl.Series(coded.codes))
    return Parsed(typed, faults[coded.codes] if reasons else np.zeros(coded.height, dtype=np.int32), reasons)


def _says_the_same(values: list[Any], texts: list[str], faults: Codes) -> bool:
    return all(value == text or fault for value, text, fault in zip(values, texts, faults.tolist(), strict=True))
