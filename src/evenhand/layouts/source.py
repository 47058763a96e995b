"""The file as a grid of cells, by its layout."""

from __future__ import annotations

from collections.abc import Sequence

import polars as pl

from evenhand.layouts.forms.encoding import to_utf8
from evenhand.layouts.forms.fixed import header_words, split_fixed
from evenhand.layouts.forms.grid import Grid
from evenhand.layouts.forms.json_lines import split_json_lines
from evenhand.layouts.forms.quoting import read_quoted
from evenhand.layouts.forms.sheets import load_sheet, split_sheet
from evenhand.layouts.forms.splitting import lines_of, split
from evenhand.layouts.layout import Layout
from evenhand.terms.records import Refusal

__all__ = ["cut", "find_column"]

SEARCHED = 200  # lines in which a header is looked for that is not where the layout says


def cut(name: str, content: bytes, layout: Layout) -> Grid:
    """Return the cells of the file; raises Refusal where it is no file of this kind.

    The header is looked for on its line first, and then above and below it: lines before it come and go.
    """
    words = [source for sources in layout.columns.values() for source in sources if isinstance(source, str)]
    if layout.form == "sheet":
        columns = load_sheet(name, content, layout.sheet)
        rows = [list(row) for row in zip(*(column[:SEARCHED] for column in columns), strict=True)]
        return split_sheet(columns, _header(name, layout, rows, words))
    lines = lines_of(name, to_utf8(name, content, layout.encoding))
    if layout.form == "json_lines":
        return split_json_lines(lines)
    if layout.form == "fixed":
        cells = [header_words(line, layout.starts) for line in lines[:SEARCHED].to_list()]
        return split_fixed(lines, layout.starts, _header(name, layout, cells, words))
    header = _header(name, layout, delimited_rows(lines, layout.delimiter), words)
    width = layout.width or max((s for ss in layout.columns.values() for s in ss if isinstance(s, int)), default=1)
    return split(lines, layout.delimiter, header, width)


def delimited_rows(lines: pl.Series, delimiter: str) -> list[list[str]]:
    """Return the cells of the first lines, by line; a line inside a quoted field has none."""
    texts = lines[:SEARCHED].to_list()
    rows: list[list[str]] = [[] for _ in texts]
    for quoted in read_quoted(dict(enumerate(texts)), range(len(texts)), delimiter, 0):
        plain = texts[quoted.start].split(delimiter)
        rows[quoted.start] = plain if quoted.cells is None else quoted.cells
    return rows


def _header(name: str, layout: Layout, rows: Sequence[Sequence[str]], words: Sequence[str]) -> int:
    """Return the line of the header, 0 where the layout has none; raises Refusal where it is not found."""
    if not layout.header:
        return 0
    places = [layout.header - 1, *range(len(rows))] if words else [layout.header - 1]
    for place in places:
        if place < len(rows):
            cells = {" ".join(cell.split()) for cell in rows[place]}
            if all(word in cells for word in words):
                return place + 1
    seen = ", ".join(cell for cell in rows[layout.header - 1] if cell) if layout.header <= len(rows) else "nothing"
    missing = next((word for word in words if all(word not in row for row in rows)), words[0] if words else "")
    raise Refusal(
        f"{name} line {layout.header}: the header {missing!r} is not there, but {seen[:120]}; "
        "take the file with a layout of its own, or correct the layout."
    )


def find_column(name: str, grid: Grid, source: str | int) -> int:
    """Return the position, from 0, of a source column; raises Refusal where the file has none such."""
    if isinstance(source, int):
        if source <= len(grid.columns):
            return source - 1
        raise Refusal(f"{name}: the layout names column {source}, but the file has {len(grid.columns)}; correct it.")
    if source in grid.headers:
        return grid.headers.index(source)
    raise Refusal(f"{name}: no column is called {source!r}; the file has {', '.join(grid.headers)[:200] or 'none'}.")
