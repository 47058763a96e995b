"""A file as a grid of cells, by a layout: its text is decoded once, and cut once for each way of cutting."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from evenhand.layouts.forms.encoding import is_workbook, to_utf8
from evenhand.layouts.forms.fixed import header_words, split_fixed
from evenhand.layouts.forms.grid import MOST_COLUMNS, Grid, without_headers, without_short
from evenhand.layouts.forms.json_array import lines_of_objects
from evenhand.layouts.forms.json_lines import is_object_to_a_line, split_json_lines
from evenhand.layouts.forms.quoting import lines_after, read_quoted
from evenhand.layouts.forms.sheets import load_sheet, open_workbook, refuse_serials, split_sheet
from evenhand.layouts.forms.splitting import lines_of, split
from evenhand.layouts.forms.workbook_state import Hidden, counts_from_1904, find_hidden
from evenhand.layouts.layout import Form, Layout, Source
from evenhand.layouts.reading import Cells, gather_cells
from evenhand.terms.languages import of_file, told
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

if TYPE_CHECKING:
    from fastexcel import ExcelReader

__all__ = ["SEARCHED", "SourceFile"]

SEARCHED = 200  # lines in which a header is looked for that is not where the layout says
LONGEST_BLANK = 1 << 16  # bytes that may stand before a JSON text
HEAD, BLOCKS, BLOCK = 2000, 8, 250  # lines of a sample: the first, and blocks of lines from the rest


@dataclass(frozen=True)
class _Way:
    """A way of cutting a file: what of a layout decides its cells, with the line on which the header was found."""

    form: Form
    encoding: str = ""
    is_sample: bool = False
    sheet: str = ""
    starts: tuple[int, ...] = ()
    delimiter: str = ""
    header: int = 0
    width: int = 0


class SourceFile:
    """A file's name and content; its lines, sheets and cells are worked out when they are first asked for, and kept.

    Raises Refusal, from whatever is asked first, where it is no file of that kind.
    """

    def __init__(self, name: str, content: bytes) -> None:
        self.name = name
        self.content = content
        self._lines: dict[str, pl.Series] = {}
        self._sheets: dict[str, list[pl.Series]] = {}
        self._rows: dict[tuple[str, str], list[list[str]]] = {}
        self._grids: dict[_Way, Grid] = {}
        self._cells: dict[tuple[_Way, str, tuple[tuple[str, tuple[Source, ...]], ...]], Cells] = {}

    @cached_property
    def is_workbook(self) -> bool:
        """Whether the content begins as a spreadsheet program's workbook does."""
        return is_workbook(self.content)

    def lines(self, encoding: str = "") -> pl.Series:
        """Return the lines of the text; without an `encoding` the bytes decide it."""
        if encoding not in self._lines:
            self._lines[encoding] = self._decoded(encoding)
        return self._lines[encoding]

    def _decoded(self, encoding: str) -> pl.Series:
        text = to_utf8(self.name, self.content, encoding)
        if text[:LONGEST_BLANK].lstrip()[:1] in (b"[", b"{") and not is_object_to_a_line(text):
            objects = lines_of_objects(self.name, text.decode())
            if objects is not None:
                return pl.Series("lines", objects, dtype=pl.String)
        return lines_of(self.name, text)

    def sheet(self, sheet: str) -> list[pl.Series]:
        """Return the columns of a workbook's sheet, of the first where it is ''."""
        if sheet not in self._sheets:
            self._sheets[sheet] = load_sheet(self.name, self.content, self._workbook, sheet)
        return self._sheets[sheet]

    @cached_property
    def sheet_names(self) -> list[str]:
        """The names of a workbook's sheets, in their order."""
        return list(self._workbook.sheet_names)

    @cached_property
    def _counts_from_1904(self) -> bool:
        return counts_from_1904(self.content)

    def hidden(self, sheet: str) -> Hidden:
        """Return what of a workbook's sheet is hidden."""
        return find_hidden(self.content, sheet)

    @cached_property
    def _workbook(self) -> ExcelReader:
        return open_workbook(self.name, self.content)

    def delimited_rows(self, delimiter: str, encoding: str = "") -> list[list[str]]:
        """Return the cells of the first lines, by line; a line inside a quoted field has none."""
        key = (delimiter, encoding)
        if key not in self._rows:
            texts = self.lines(encoding)[:SEARCHED].to_list()
            if (widest := max((text.count(delimiter) for text in texts), default=0)) >= MOST_COLUMNS:
                raise Refusal(
                    of_file(
                        self.name,
                        told(
                            "a line has {count:,} columns, more than a table of rows has; export only the columns "
                            "that are needed.",
                            count=widest + 1,
                        ),
                    )
                )
            rows = [text.split(delimiter) for text in texts]
            starts = [at for at, text in enumerate(texts) if '"' in text]
            for quoted in read_quoted(dict(enumerate(texts)), starts, delimiter, 0):
                if quoted.cells is not None:
                    rows[quoted.start : quoted.start + quoted.taken] = [
                        quoted.cells,
                        *([] for _ in range(1, quoted.taken)),
                    ]
            self._rows[key] = rows
        return self._rows[key]

    def has_rows(self, layout: Layout) -> bool:
        """Return whether a delimited layout's own number of columns stands in any of the first lines."""
        rows = self.delimited_rows(layout.delimiter, layout.encoding)
        return any(len(row) >= layout.width for row in rows)

    def grid(self, layout: Layout, *, is_sample: bool = False) -> Grid:
        """Return the cells by a layout, of the whole file or of lines from all over it that show what it is.

        The header is looked for on its line first, and then above and below it: lines before it come and go.
        Raises Refusal where it is no file of this kind.
        """
        return self._grid(self._way(layout, is_sample))

    def cells(self, layout: Layout, *, is_sample: bool = False) -> Cells:
        """Return the mapped columns of the grid, each distinct text once; raises Refusal where one is not there."""
        way = self._way(layout, is_sample)
        key = (way, layout.table, tuple(layout.columns.items()))
        if key not in self._cells:
            grid = self._grid(way)
            if way.form == "sheet" and self._counts_from_1904:
                for column in SOURCES[layout.table].columns:
                    for source in layout.columns.get(column.name, ()) if column.kind in ("instant", "date") else ():
                        position = grid.position_of(self.name, source)
                        refuse_serials(self.name, grid.named(position), grid.columns[position])
            self._cells[key] = gather_cells(self.name, grid, layout)
        return self._cells[key]

    def as_written(self, layout: Layout, lines: pl.Series) -> pl.Series:
        """Return the text of rows by the line on which each begins, as it stands in the file.

        Quoted cells that run over lines are there whole; the cells of a sheet's row are parted by tabs.
        """
        places = lines.cast(pl.Int64) - 1
        if layout.form == "sheet":
            cells = [column.gather(places) for column in self.sheet(layout.sheet)]
            return pl.select(pl.concat_str(cells, separator="\t")).to_series().str.strip_chars_end("\t")
        of_file = self.lines(layout.encoding)
        texts = of_file.gather(places)
        if layout.form != "delimited":
            return texts
        quoted = texts.str.contains('"', literal=True).arg_true()
        following = lines_after(of_file, places.gather(quoted).to_numpy())
        whole = {}
        for at, begins in zip(quoted.to_list(), places.gather(quoted).to_list(), strict=True):
            if (taken := read_quoted(following, [begins], layout.delimiter, 0)[0].taken) > 1:
                whole[at] = "\n".join(following[line] for line in range(begins, begins + taken))
        return texts.scatter(list(whole), list(whole.values())) if whole else texts

    def _grid(self, way: _Way) -> Grid:
        if way not in self._grids:
            self._grids[way] = without_short(without_headers(self._cut(way)))
        return self._grids[way]

    def _way(self, layout: Layout, is_sample: bool) -> _Way:
        sources = [source for sources in layout.columns.values() for source in sources]
        words = [source for source in sources if isinstance(source, str)]
        form = layout.form
        if form == "sheet":
            rows = [list(row) for row in zip(*(column[:SEARCHED] for column in self.sheet(layout.sheet)), strict=True)]
            return _Way(form, sheet=layout.sheet, header=self._header(layout, rows, words))
        way = _Way(form, layout.encoding, is_sample and self.lines(layout.encoding).len() > HEAD + BLOCKS * BLOCK)
        if form == "fixed":
            lines = self.lines(layout.encoding)[:SEARCHED].to_list()
            tokens = {token for word in words for token in word.split()}
            may_be = ((line if all(token in line for token in tokens) else "") for line in lines)
            rows = [list(header_words(line, layout.starts)) if line else [] for line in may_be]
            return replace(way, starts=layout.starts, header=self._header(layout, rows, words))
        if form == "delimited":
            header = self._header(layout, self.delimited_rows(layout.delimiter, layout.encoding), words)
            width = layout.width or max((source for source in sources if isinstance(source, int)), default=1)
            return replace(way, delimiter=layout.delimiter, header=header, width=0 if header else width)
        return way

    def _cut(self, way: _Way) -> Grid:
        if way.form == "sheet":
            return split_sheet(self.sheet(way.sheet), way.header)
        lines = self.lines(way.encoding)
        if way.is_sample:
            starts = np.linspace(HEAD, lines.len() - BLOCK, BLOCKS).astype(np.int64)
            lines = pl.concat([lines[:HEAD], *(lines[start : start + BLOCK] for start in starts.tolist())])
        match way.form:
            case "json_lines":
                return split_json_lines(lines, self.name)
            case "fixed":
                return split_fixed(lines, way.starts, way.header)
        return split(lines, way.delimiter, way.header, way.width)

    def _header(self, layout: Layout, rows: Sequence[Sequence[str]], words: Sequence[str]) -> int:
        """Return the line of the header, 0 where the layout has none; raises Refusal where it is not found."""
        if not layout.header:
            return 0
        wanted = set(words)
        for place in [layout.header - 1, *range(len(rows))] if words else [layout.header - 1]:
            # Most lines have fewer cells than a header of another kind has words.
            has_room = place < len(rows) and len(rows[place]) >= len(wanted)
            if has_room and wanted <= {" ".join(cell.split()) for cell in rows[place]}:
                return place + 1
        seen = ", ".join(cell for cell in rows[layout.header - 1] if cell) if layout.header <= len(rows) else "nothing"
        missing = next((word for word in words if all(word not in row for row in rows)), words[0] if words else "")
        raise Refusal(
            told(
                "{name} line {header}: the header {missing} is not there, but {seen}; take the file with "
                "a layout of its own, or correct the layout.",
                name=self.name,
                header=layout.header,
                missing=repr(missing),
                seen=seen[:120],
            )
        )
