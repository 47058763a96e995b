"""Lines that hold quotes: the csv module reads them, but an open quote takes only its own line with it.

Source: RFC 4180, section 2 (quoted fields, doubled quotes, line breaks within a field).
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

__all__ = ["LOOKAHEAD", "Quoted", "lines_after", "read_quoted"]

LOOKAHEAD = 10  # lines a quoted field may run over


class _OpenQuote(Exception):  # noqa: N818  (a signal to this module, never seen outside)
    pass


class _Feed:
    """Hands lines to the csv module from a chosen place, never more than `LOOKAHEAD` for one row."""

    def __init__(self, lines: Mapping[int, str]) -> None:
        self.lines = lines
        self.position = 0
        self.taken = 0

    def restart(self, position: int) -> None:
        self.position, self.taken = position, 0

    def __iter__(self) -> _Feed:
        return self

    def __next__(self) -> str:
        if self.position not in self.lines:
            raise StopIteration
        if self.taken == LOOKAHEAD:
            raise _OpenQuote
        line = self.lines[self.position]
        self.position, self.taken = self.position + 1, self.taken + 1
        return line + "\n"


@dataclass(frozen=True)
class Quoted:
    """A row read by the csv module: `cells` is None where its quotes do not fit; it covers `taken` lines."""

    start: int
    taken: int
    cells: list[str] | None


def lines_after(lines: pl.Series, starts: npt.NDArray[np.int64]) -> dict[int, str]:
    """Return by their places the lines at `starts`, and those that follow as far as a row may run."""
    reach = np.unique((starts[:, None] + np.arange(LOOKAHEAD)).ravel())
    reach = reach[reach < lines.len()]
    return dict(zip(reach.tolist(), lines.gather(reach).to_list(), strict=True))


def read_quoted(lines: Mapping[int, str], starts: Iterable[int], delimiter: str, width: int) -> list[Quoted]:
    """Return the rows that begin at the lines `starts` (rising), but those inside a row already read.

    `lines` are the lines by place: those at the starts, and those that follow as far as a row may run.
    A row over several lines is believed only if it has `width` columns, but for empty ones (any, where `width` is 0).
    """
    feed = _Feed(lines)
    reader = csv.reader(feed, delimiter=delimiter, strict=True)
    rows: list[Quoted] = []
    done = 0
    for start in starts:
        if start < done:
            continue
        feed.restart(start)
        try:
            cells = next(reader)
        except (csv.Error, _OpenQuote):
            rows.append(Quoted(start, 1, None))
            continue
        if feed.taken > 1 and width and (len(cells) < width or any(cell.strip() for cell in cells[width:])):
            rows.append(Quoted(start, 1, None))
            continue
        rows.append(Quoted(start, feed.taken, cells))
        done = start + feed.taken
    return rows
