"""The cells of a file, still text, with the line each row stands on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.layouts.values.words import are_totals
from evenhand.terms.columns import Frame
from evenhand.terms.languages import in_a_row, of_file, sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.tables import REJECTS

__all__ = [
    "HEADER_AGAIN",
    "MOST_COLUMNS",
    "TOTAL_LINE",
    "WHOLE_ROW",
    "Grid",
    "Lines",
    "whole_rows",
    "without_headers",
    "without_short",
]

Lines = npt.NDArray[np.int64]

MOST_COLUMNS = 1500  # a column of dates is weighed in some 15 ms, of numbers in one; together they stay below 30 s
WHOLE_ROW = sentence("whole row")
HEADER_AGAIN = sentence("this is the header again, not a row; nothing to do")
OTHER_HEADER = sentence(
    "this is another header, with its columns in another order; save what follows it as a file of its own"
)
BELOW = sentence(
    "the row is below another header, with its columns in another order; save that part as a file of its own"
)
CUT_SHORT = sentence("the row ends before columns that all others fill, as if it were cut short; correct the row")
FEWEST, MOST_SHORT = 8, 0.02  # rows; of them those that may lack a column that all others fill
TOTAL_LINE = sentence("this is a line of totals, not a row; nothing to do")


@dataclass(frozen=True)
class Grid:
    """One text series per column of the file; `lines` is the line of each row, from 1.

    `headers` is empty where the file has none; `rejects` (REJECTS) are the rows that could not be cut into cells, not
    in their order; `preamble` counts the lines before the header that are not blank.
    """

    headers: tuple[str, ...]
    columns: tuple[pl.Series, ...]
    lines: Lines
    rejects: Frame = field(default_factory=REJECTS.empty)
    preamble: int = 0

    def named(self, position: int) -> str:
        """Return the header of the column at `position` (from 0), or its position from 1 in words."""
        header = self.headers[position] if position < len(self.headers) else ""
        return header or told("column {position}", position=position + 1)

    def position_of(self, name: str, source: str | int) -> int:
        """Return the position, from 0, of a source column; raises Refusal where the file `name` has none such."""
        if isinstance(source, int):
            if source <= len(self.columns):
                return source - 1
            raise Refusal(
                of_file(
                    name,
                    told(
                        "the layout names column {source}, but the file has {columns}; correct it.",
                        source=source,
                        columns=len(self.columns),
                    ),
                )
            )
        if (many := self.headers.count(source)) > 1:
            raise Refusal(
                of_file(
                    name,
                    told(
                        "{many} columns are called {header}; name the one that is meant by its position from 1, "
                        "{places}.",
                        many=many,
                        header=repr(source),
                        places=in_a_row(
                            "{one} or {other}",
                            [str(at + 1) for at, header in enumerate(self.headers) if header == source],
                        ),
                    ),
                )
            )
        if many:
            return self.headers.index(source)
        raise Refusal(
            of_file(
                name,
                told(
                    "no column is called {header}; the file has {headers}.",
                    header=repr(source),
                    headers=", ".join(self.headers)[:200] or told("none"),
                ),
            )
        )


def whole_rows(lines: Lines, texts: pl.Series, reason: pl.Series | str) -> Frame:
    """Return the REJECTS of whole rows, each with its line, its text and its reason, or all with one reason."""
    rows = texts.to_frame("seen").with_columns(
        pl.Series("line", lines), column=pl.lit(WHOLE_ROW), reason=pl.lit(reason)
    )
    return REJECTS.frame(rows.to_dict())


def without_headers(grid: Grid) -> Grid:
    """Return the grid without the rows that are its header again, as at the head of every printed page: rejected.

    Where such a row has the words of the header in another order, or others among them, what stands below it is in
    other columns; it is rejected as well, up to the next row that is the header as it was.
    """
    words = [_folded(header) for header in grid.headers]
    named = {word for word in words if word}
    if len(named) < 2:
        return grid
    leading = [_folded_cells(column).is_in(list(named)) for column in grid.columns[:2]]
    rows = (leading[0] | leading[-1]).fill_null(False).arg_true().to_list()
    again, others = [], []
    for row in rows:
        cells = [_folded(column[row] or "") for column in grid.columns]
        told = sum(cell in named for cell in cells)
        if all(word in ("", cell) for word, cell in zip(words, cells, strict=False)):
            again.append(row)
        elif told >= 2 and 2 * told > sum(map(bool, cells)):
            others.append(row)
    if not others:
        return _without(grid, pl.Series(again, dtype=pl.UInt32), HEADER_AGAIN)
    return _without_parts(grid, again, others)


def _without_parts(grid: Grid, again: Sequence[int], others: Sequence[int]) -> Grid:
    """Return the grid without the rows that are its header `again`, the `others`, and what is below these."""
    starts = sorted({*again, *others, len(grid.lines)})
    below = {row for at, start in enumerate(starts) if start in others for row in range(start + 1, starts[at + 1])}
    reasons = dict.fromkeys(again, HEADER_AGAIN) | dict.fromkeys(others, OTHER_HEADER) | dict.fromkeys(below, BELOW)
    rows = sorted(reasons)
    return _without(grid, pl.Series(rows, dtype=pl.UInt32), pl.Series([reasons[row] for row in rows]))


def _folded(text: str) -> str:
    return " ".join(text.split()).lower()


def _folded_cells(column: pl.Series) -> pl.Series:
    return column.str.replace_all(r"\s+", " ").str.strip_chars().str.to_lowercase()


def without_short(grid: Grid) -> Grid:
    """Return the grid without the few rows that end before two columns or more that all others fill: rejected."""
    height, filled = len(grid.lines), 0
    short = pl.repeat(True, height, eager=True)
    for column in reversed(grid.columns[1:]):
        is_empty = column.is_null() | (column.str.strip_chars() == "")
        short &= is_empty
        if height < FEWEST or not short.any():
            return grid
        filled += int(is_empty.sum()) <= max(1, MOST_SHORT * height)
        if filled == 2:
            rows = short.arg_true()
            return _without(grid, rows.filter(~are_totals(grid.columns[0].gather(rows))), CUT_SHORT)
    return grid


def _without(grid: Grid, rows: pl.Series, reason: pl.Series | str) -> Grid:
    """Return the grid without some rows, which are rejected, each for its reason or all for one."""
    if rows.is_empty():
        return grid
    texts = pl.select(pl.concat_str([column.gather(rows) for column in grid.columns], separator=" ", ignore_nulls=True))
    again = whole_rows(grid.lines[rows.to_numpy()], texts.to_series(), reason)
    kept = np.ones(len(grid.lines), np.bool_)
    kept[rows.to_numpy()] = False
    columns = tuple(column.filter(pl.Series(kept)) for column in grid.columns)
    return replace(grid, columns=columns, lines=grid.lines[kept], rejects=pl.concat([grid.rejects, again]))
