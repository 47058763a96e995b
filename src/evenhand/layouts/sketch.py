"""What a file looks like, whoever it comes from: how it is cut into columns, and cells from all over it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import polars as pl

from evenhand.layouts.evidence.profile import Profile, profiles_of
from evenhand.layouts.forms.grid import Grid
from evenhand.layouts.layout import Layout
from evenhand.layouts.shape import find_delimiter, find_fixed, find_header, is_json_lines, usual_width
from evenhand.layouts.source_file import SEARCHED, SourceFile
from evenhand.terms.languages import of_file, told
from evenhand.terms.records import Refusal

__all__ = ["Cut", "Sketch", "above_header", "cut_by", "sketch"]

ROWS = 150  # rows of which the cells are looked at
CELLS = 12_000  # cells that are looked at in all: of many columns, fewer rows
FEWEST = 12
MOST_SHEETS = 8
ANY = "punches"  # a shape says how a file is cut, and not yet which table it holds


@dataclass(frozen=True)
class Cut:
    """A way of cutting a file into columns: its layout without columns, the cells, and what the columns look like.

    `above` is what stands above the header, as one text.
    """

    shape: Layout
    grid: Grid
    profiles: tuple[Profile, ...]
    above: str = ""


@dataclass(frozen=True)
class Sketch:
    """The ways of cutting a file: one, or one for each sheet of a workbook that holds rows."""

    cuts: tuple[Cut, ...]


def sketch(file: SourceFile) -> Sketch:
    """Return a sketch of the file; raises Refusal where it holds no table of rows."""
    found = [cut_by(file, shape) for shape in _shapes(file)]
    if cuts := tuple(cut for cut in found if cut.grid.lines.size):
        return Sketch(cuts)
    for cut in found:
        if cut.grid.rejects.height:
            first = cut.grid.rejects.row(0, named=True)
            raise Refusal(
                of_file(
                    file.name,
                    told(
                        "not one of its rows can be read; line {line}: {why}.", line=first["line"], why=first["reason"]
                    ),
                )
            )
    raise Refusal(of_file(file.name, told("the file has a header but no rows; export it again.")))


def cut_by(file: SourceFile, layout: Layout) -> Cut:
    """Return the file as a layout cuts it; raises Refusal where that cannot be."""
    # Names that few objects have stand nowhere else, so that all lines of JSON are looked at.
    grid = file.grid(layout, is_sample=layout.form != "json_lines")
    rows = max(FEWEST, min(ROWS, CELLS // max(len(grid.columns), 1)))
    return Cut(layout, grid, profiles_of([_some(column, rows) for column in grid.columns]), above_header(file, layout))


def above_header(file: SourceFile, layout: Layout) -> str:
    """Return what stands above the header, as one text: titles, and notes on the whole file."""
    if layout.header > 1 and layout.form in ("delimited", "fixed"):
        return " ".join(file.lines()[: layout.header - 1].to_list())
    if layout.header > 1 and layout.form == "sheet":
        cells = (column[: layout.header - 1].fill_null("").to_list() for column in file.sheet(layout.sheet))
        return " ".join(text for of_column in cells for text in of_column)
    return ""


def _some(column: pl.Series, rows: int) -> list[str]:
    """Return cells from all over the column: a file may begin with an odd day."""
    step = max(1, column.len() // rows)
    return column.gather_every(step)[:rows].fill_null("").to_list()


def _shapes(file: SourceFile) -> Iterator[Layout]:
    """Yield layouts that say how the file is cut, but not yet what its columns are."""
    if file.is_workbook:
        yield from _sheet_shapes(file)
        return
    lines = file.lines()
    if is_json_lines(lines):
        yield Layout(ANY, "json_lines", {})
        return
    delimiter = find_delimiter(file)
    rows = file.delimited_rows(delimiter) if delimiter else []
    width = usual_width(rows)[0]
    # A tab is as blank as other blanks.
    starts, header = find_fixed(lines, delimiter, width) if delimiter != "\t" else ((), 0)
    if starts:
        yield Layout(ANY, "fixed", {}, starts=starts, header=header)
    elif delimiter:
        header = find_header(rows)
        yield Layout(ANY, "delimited", {}, delimiter=delimiter, header=header, width=0 if header else width)
    else:
        raise Refusal(
            of_file(file.name, told("no table of rows is recognised; export it as CSV or XLSX with one row to a line."))
        )


def _sheet_shapes(file: SourceFile) -> Iterator[Layout]:
    names = file.sheet_names
    found = False
    for sheet in names[:MOST_SHEETS]:
        columns = file.sheet(sheet)
        rows = [list(row) for row in zip(*(column[:SEARCHED] for column in columns), strict=True)]
        if len(columns) < 2 or not rows:
            continue
        found = True
        yield Layout(ANY, "sheet", {}, sheet=sheet if len(names) > 1 else "", header=find_header(rows))
    if not found:
        raise Refusal(of_file(file.name, told("no sheet holds a table of rows; put the rows on a sheet of their own.")))
