"""What is known of a file while it is read: the mapped cells, the typed columns, and the rows refused so far."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.layouts.forms.grid import TOTAL_LINE, WHOLE_ROW, Fault, Grid
from evenhand.layouts.layout import Layout
from evenhand.layouts.source import find_column
from evenhand.layouts.values.coded import Coded, Parsed, encode
from evenhand.layouts.values.moments import Moments, join_columns, split_column
from evenhand.layouts.values.words import is_total
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

__all__ = ["Cells", "Reading", "gather_cells", "refuse_totals"]

LAST = 5  # rows among which a line of totals is looked for


@dataclass
class Reading:
    """The typed columns of all rows, and which rows are refused, each for its first fault."""

    values: dict[str, pl.Series]
    refused: npt.NDArray[np.bool_]
    notices: list[str] = field(default_factory=list)
    found: list[tuple[int, str, str, str]] = field(default_factory=list)

    def refuse(self, row: int, column: str, seen: str, reason: str) -> None:
        """Refuse one row, unless it is refused already."""
        if not self.refused[row]:
            self.refused[row] = True
            again = seen and seen == column
            self.found.append(
                (row, column, seen, "this is the header again, not a row; nothing to do" if again else reason)
            )

    def refuse_where(self, coded: Coded, parsed: Parsed, column: str) -> None:
        """Refuse the rows of a column that are faulty."""
        if not parsed.reasons:
            return
        for row in np.flatnonzero((parsed.faults > 0) & ~self.refused).tolist():
            self.refuse(row, column, coded.text(row), parsed.reasons[parsed.faults[row] - 1])

    def faults(self, grid: Grid) -> list[Fault]:
        """Return the refused rows with their lines."""
        return [Fault(int(grid.lines[row]), column, seen, reason) for row, column, seen, reason in self.found]


@dataclass(frozen=True)
class Cells:
    """The mapped columns of a file: their text by declared column, and the file's own words for each.

    `share_date` says that start and end of a shift stand beside one date.
    """

    coded: dict[str, Coded]
    moments: dict[str, Moments]
    labels: dict[str, str]
    share_date: bool


def gather_cells(name: str, grid: Grid, layout: Layout) -> Cells:
    """Return the mapped columns of the grid; raises Refusal where the file has no such column."""
    starts, ends = layout.columns.get("starts_at", ()), layout.columns.get("ends_at", ())
    cells = Cells({}, {}, {}, share_date=len(starts) == len(ends) == 2 and starts[0] == ends[0])
    texts: dict[str, pl.Series] = {}
    times: dict[str, list[pl.Series]] = {}
    for column in SOURCES[layout.table].columns:
        if column.name not in layout.columns:
            continue
        positions = [find_column(name, grid, source) for source in layout.columns[column.name]]
        series = [grid.columns[position] for position in positions]
        cells.labels[column.name] = " and ".join(grid.named(position) for position in positions)
        if column.kind == "instant":
            if len(series) > 2:
                raise Refusal(f"{name}: '{column.name}' joins {len(series)} columns; a date and a time are all it can.")
            times[column.name] = series
        elif len(series) == 1:
            texts[column.name] = series[0]
        else:
            texts[column.name] = pl.select(pl.concat_str(series, separator=" ")).to_series()
    with ThreadPoolExecutor() as threads:  # the work is outside the interpreter's lock
        moments = threads.map(
            lambda parts: split_column(*parts) if len(parts) == 1 else join_columns(*parts), times.values()
        )
        coded = threads.map(encode, texts.values())
        cells.moments.update(zip(times, moments, strict=True))
        cells.coded.update(zip(texts, coded, strict=True))
    return cells


def refuse_totals(grid: Grid, reading: Reading) -> None:
    """Refuse lines of totals at the end of a report, even where their cells could pass for values."""
    height = len(grid.lines)
    for row in range(max(0, height - LAST), height):
        cells = [cell for cell in (column[row] for column in grid.columns) if cell and cell.strip()]
        if cells and is_total(cells[0]):
            reading.refuse(row, WHOLE_ROW, " ".join(cells), TOTAL_LINE)
