"""The cells of a file, still text, with the line each row stands on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

__all__ = ["TOTAL_LINE", "WHOLE_ROW", "Fault", "Grid", "Lines"]

Lines = npt.NDArray[np.int64]

WHOLE_ROW = "whole row"
TOTAL_LINE = "this is a line of totals, not a row; nothing to do"


@dataclass(frozen=True)
class Fault:
    """A row that is refused: where it stands, what was seen and why."""

    line: int
    column: str
    seen: str
    reason: str


@dataclass(frozen=True)
class Grid:
    """One text series per column of the file; `lines` is the line of each row, from 1.

    `headers` is empty where the file has none; `faults` are the rows that could not be cut into cells;
    `preamble` counts the lines before the header that are not blank.
    """

    headers: tuple[str, ...]
    columns: tuple[pl.Series, ...]
    lines: Lines
    faults: tuple[Fault, ...] = ()
    preamble: int = 0

    def named(self, position: int) -> str:
        """Return the header of the column at `position` (from 0), or its position from 1 in words."""
        header = self.headers[position] if position < len(self.headers) else ""
        return header or f"column {position + 1}"
