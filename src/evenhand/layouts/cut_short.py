"""The last row of a text whose last line does not end: its last cell may be the beginning of one that was cut short."""

from __future__ import annotations

import re

import numpy as np
import polars as pl

from evenhand.layouts.forms.grid import Grid
from evenhand.layouts.layout import Layout
from evenhand.layouts.reading import Reading
from evenhand.layouts.source_file import SourceFile
from evenhand.terms.languages import sentence

__all__ = ["reject_cut_short"]

TEXTS = frozenset({"delimited", "fixed"})
FEWEST = 8  # other cells of the column
LINE_ENDS = (b"\n", b"\r", b"\n\0", b"\r\0")
PARTING = r"[^\w]"  # what parts a cell, as the colons do of a time of day

CUT = sentence(
    "the file ends here without the end of a line, and this is shorter than the other cells "
    "of its column, as if the file were cut short; export it again, or end the line if the "
    "row is whole"
)


def reject_cut_short(file: SourceFile, layout: Layout, grid: Grid, reading: Reading) -> None:
    """Reject the last row of a text without a last line end whose last cell is written shorter than all others."""
    if layout.form not in TEXTS or not len(grid.lines) or file.content.endswith(LINE_ENDS):
        return
    lines, at_end = file.lines(layout.encoding), len(grid.lines) - 1
    filled = [at for at, column in enumerate(grid.columns) if (column[at_end] or "").strip()]
    if grid.lines[at_end] != lines.len() or not filled:
        return
    column, last = grid.columns[filled[-1]], grid.columns[filled[-1]][at_end].strip()
    sources = (source for sources in layout.columns.values() for source in sources)
    if not lines[-1].endswith(last) or all(grid.position_of(file.name, source) != filled[-1] for source in sources):
        return
    if _is_shorter(last, column[:at_end]):
        reading.reject(np.arange(at_end + 1) == at_end, grid.named(filled[-1]), last, CUT)


def _is_shorter(last: str, column: pl.Series) -> bool:
    """Return whether a cell is shorter than others of one length, or also lacks a part that each of them has."""
    others = column.drop_nulls().str.strip_chars()
    others = others.filter(others != "")
    lengths = others.str.len_chars().to_numpy()
    if len(lengths) < FEWEST or len(last) >= lengths.min():
        return False
    parted = others.str.count_matches(PARTING).to_numpy().min()
    return bool(lengths.min() == lengths.max() or len(re.findall(PARTING, last)) < parted)
