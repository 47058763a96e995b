"""What is known of a file while it is read: the mapped cells, the typed columns, and the rows rejected so far."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.layouts.forms.grid import HEADER_AGAIN, TOTAL_LINE, WHOLE_ROW, Grid, Lines
from evenhand.layouts.layout import Layout
from evenhand.layouts.values.coded import Coded, Parsed, Unfit, encode_all
from evenhand.layouts.values.moments import Moments, join_columns, split_column
from evenhand.layouts.values.spans import split_spans
from evenhand.layouts.values.words import are_units, is_total
from evenhand.terms.columns import Frame
from evenhand.terms.languages import of_file, said_of, sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES
from evenhand.terms.tables import REJECTS

__all__ = ["Cells", "Reading", "gather_cells", "reject_totals", "reject_units"]

Texts = Callable[[Lines], pl.Series]

UNITS_LINE = sentence(
    "this row says what kinds or units the columns are of, so it is no row of the table; nothing to do"
)
LAST = 5  # rows among which a line of totals is looked for


@dataclass
class Reading:
    """The typed columns of all rows, and which rows are rejected, each for its first fault.

    `to_minute` says that no seconds are written in the file's times.
    """

    values: dict[str, pl.Series]
    lines: Lines
    rejected: npt.NDArray[np.bool_]
    notices: list[str] = field(default_factory=list)
    found: list[Frame] = field(default_factory=list)
    to_minute: bool = False

    @classmethod
    def of(cls, grid: Grid) -> Reading:
        """Return the reading of a grid of which nothing is read yet."""
        return cls({}, grid.lines, np.zeros(len(grid.lines), dtype=np.bool_), found=[grid.rejects])

    def reject(self, faulty: npt.NDArray[np.bool_], column: str, seen: Texts | str, reason: Texts | str) -> None:
        """Reject the `faulty` rows that are not rejected yet.

        `seen` and `reason` are one text for all of them, or give the texts of rows.
        """
        rows = np.flatnonzero(faulty & ~self.rejected)
        if not len(rows):
            return
        self.rejected[rows] = True
        said = [pl.lit(of if isinstance(of, str) else of(rows)) for of in (seen, reason)]
        is_header = (pl.col("seen") == column) & (pl.col("seen") != "")
        found = pl.select(line=pl.Series(self.lines[rows]), column=pl.lit(column), seen=said[0], reason=said[1])
        found = found.with_columns(reason=pl.when(is_header).then(pl.lit(HEADER_AGAIN)).otherwise("reason"))
        self.found.append(REJECTS.frame(found.to_dict()))

    def reject_parsed(self, coded: Coded, parsed: Parsed, column: str) -> None:
        """Reject the rows of a column that are faulty."""
        if parsed.reasons:
            self.reject(parsed.faults > 0, column, coded.texts, parsed.why)

    def rejects(self) -> Frame:
        """Return the rows rejected (REJECTS), also those that could not be cut, by their lines."""
        return pl.concat(self.found).sort("line", maintain_order=True)


@dataclass(frozen=True)
class Cells:
    """The mapped columns of a file: their text by declared column, and the file's own words for each.

    `share_date` says that start and end of a shift stand beside one date; where they are the same columns, the last
    holds both times.
    """

    coded: dict[str, Coded]
    moments: dict[str, Moments]
    labels: dict[str, str]
    share_date: bool


def gather_cells(name: str, grid: Grid, layout: Layout) -> Cells:
    """Return the mapped columns of the grid; raises Refusal where the file has no such column."""
    starts, ends = layout.columns.get("starts_at", ()), layout.columns.get("ends_at", ())
    cells = Cells({}, {}, {}, share_date=min(len(starts), len(ends)) > 1 and starts[0] == ends[0])
    texts: dict[str, pl.Series] = {}
    for column in SOURCES[layout.table].columns:
        if column.name not in layout.columns:
            continue
        positions = [grid.position_of(name, source) for source in layout.columns[column.name]]
        series = [grid.columns[position] for position in positions]
        cells.labels[column.name] = " and ".join(grid.named(position) for position in positions)
        if column.kind == "instant":
            if starts == ends and column.name in ("starts_at", "ends_at"):
                series[-1] = split_spans(series[-1], "start" if column.name == "starts_at" else "end")
            try:
                cells.moments[column.name] = split_column(*series) if len(series) == 1 else join_columns(series)
            except Unfit as unfit:
                raise Refusal(
                    of_file(
                        name,
                        told(
                            "'{column}' joins {count} columns; {unfit}.",
                            column=column.name,
                            count=len(series),
                            unfit=said_of(unfit),
                        ),
                    )
                ) from None
        elif len(series) == 1:
            texts[column.name] = series[0]
        else:
            texts[column.name] = pl.select(pl.concat_str(series, separator=" ")).to_series()
    cells.coded.update(encode_all(texts))
    return cells


def reject_totals(grid: Grid, reading: Reading) -> None:
    """Reject lines of totals at the end of a report, even where their cells could pass for values.

    Beside its word stand numbers alone: a person may be called Total, but has a site, a name or an identifier as well.
    """
    height = len(grid.lines)
    for row in range(max(0, height - LAST), height):
        cells = [cell for cell in (column[row] for column in grid.columns) if cell and cell.strip()]
        if cells and is_total(cells[0]) and not any(any(map(str.isalpha, cell)) for cell in cells[1:]):
            reading.reject(np.arange(height) == row, WHOLE_ROW, " ".join(cells), TOTAL_LINE)


def reject_units(grid: Grid, reading: Reading) -> None:
    """Reject the row under the header where it says what its columns hold, even where its cells could be values."""
    if grid.headers and len(grid.lines):
        cells = [column[0] or "" for column in grid.columns]
        if are_units(cells):
            reading.reject(np.arange(len(grid.lines)) == 0, WHOLE_ROW, " ".join(filter(None, cells)), UNITS_LINE)
