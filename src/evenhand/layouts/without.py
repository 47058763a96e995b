"""A file without some of its rows, cells and names; every other row stays on its line, and is read as it was.

Text stays text of its encoding, mark and line ends, with empty lines where rows were; a list of JSON objects becomes
one object to a line.
A workbook becomes an XLSX of the sheets that are read, each cell the text that is read from it; nothing else of the
workbook stays.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import polars as pl

from evenhand.layouts.forms.as_written import rewritten
from evenhand.layouts.forms.quoting import lines_after, read_quoted
from evenhand.layouts.layout import Layout, Source
from evenhand.layouts.source_file import SourceFile

__all__ = ["WHOLE_LINE", "Redaction", "Shortened", "lines_with", "without"]

WIDEST = 1_000_000  # the end of a line of fixed width
MARKS = "\u0300-\u036f"  # accents behind their letter
WHOLE_LINE = -1
"""Stands for a position where the text of a whole line is meant."""


@dataclass(frozen=True)
class Redaction:
    """What is to go of a file: whole rows by the `lines` on which they begin, and `cells` of rows that stay, by line.

    `words` go wherever they stand as whole words, `values` where they are all that is in a cell. `texts` are what cells
    say instead, by line and position from 0. `kept` are words that stay whole although some of `words` stand in them.
    """

    lines: frozenset[int] = frozenset()
    cells: Mapping[int, tuple[Source, ...]] = field(default_factory=dict)
    words: tuple[str, ...] = ()
    values: frozenset[str] = frozenset()
    texts: Mapping[int, Mapping[int, str]] = field(default_factory=dict)
    kept: tuple[str, ...] = ()

    @property
    def pattern(self) -> str:
        """Return what finds the words and values in a line; '' where there are none."""
        every = {*(one.rstrip(" .") for one in self.words), *self.values}
        texts = sorted(every, key=lambda text: (-len(text), text))
        if texts:  # a full stop at the end is no part of a word
            texts = [*sorted((one.rstrip(" .") for one in self.kept), key=len, reverse=True), *texts]
        return r"(?i)\b(?:" + "|".join(re.escape(text) for text in texts) + r")\b" if texts else ""

    @property
    def found(self) -> re.Pattern[str] | None:
        """Return the same, told where an accent stands behind its letter, which ends no word."""
        bounded = self.pattern.replace(r"(?i)\b", r"(?i)(?<!\w)", 1).removesuffix(r"\b")
        return re.compile(bounded + rf"(?![\w{MARKS}])") if bounded else None


@dataclass(frozen=True)
class Shortened:
    """The `content` of a file without what it had to lose.

    `changed` are the rows that stay and lost words or values, by the line, from 1: what stood there before.
    """

    content: bytes
    changed: Mapping[int, str]


def lines_with(file: SourceFile, layout: Layout, pattern: str) -> list[int]:
    """Return the lines, from 1, on which the pattern is found, as far as the layout reads the file."""
    columns = file.sheet(layout.sheet) if layout.form == "sheet" else [file.lines(layout.encoding)]
    places = {at for column in columns for at in column.str.contains(pattern).arg_true().to_list()}
    return sorted(at + 1 for at in places)


def without(
    file: SourceFile, cuts: Sequence[tuple[Layout, Redaction]], sheets: Mapping[str, str] | None = None
) -> Shortened:
    """Return the file without what each of the layouts that it is read by is to lose.

    `sheets` are other names for sheets of a workbook.
    """
    changed: dict[int, str] = {}
    if file.is_workbook:
        return Shortened(_workbook(file, cuts, changed, sheets or {}), changed)
    encoding = cuts[0][0].encoding
    before = file.lines(encoding).to_list()
    lines = list(before)
    for layout, cut in cuts:
        _cut_lines(file, layout, cut, lines, changed)
    return Shortened(rewritten(file.name, file.content, encoding, before, lines), changed)


def _cut_lines(file: SourceFile, layout: Layout, cut: Redaction, lines: list[str], changed: dict[int, str]) -> None:
    text = pl.Series(lines, dtype=pl.String)
    for line in sorted(cut.lines):
        for at in range(line - 1, line - 1 + _taken(layout, text, line)):
            lines[at] = ""
    for line, cells in _said(file, layout, cut).items():
        if WHOLE_LINE in cells:
            lines[line - 1] = cells[WHOLE_LINE]
            continue
        taken = _taken(layout, text, line)
        whole = "\n".join(lines[line - 1 : line - 1 + taken])
        said = _saying(layout, whole, cells, file.grid(layout).headers).split("\n")
        lines[line - 1 : line - 1 + taken] = [*said, *[""] * (taken - len(said))]
    if (found := cut.found) is not None:
        for at in pl.Series(lines, dtype=pl.String).str.contains(cut.pattern).arg_true().to_list():
            left = found.sub(lambda match: _blank(match, cut), lines[at])
            if left != lines[at]:
                changed[at + 1], lines[at] = lines[at], left


def _said(file: SourceFile, layout: Layout, cut: Redaction) -> dict[int, dict[int, str]]:
    """Return what is to stand in which cells, by line and position: nothing, or a text."""
    said = {line: dict(cells) for line, cells in cut.texts.items()}
    for line, sources in cut.cells.items():
        grid = file.grid(layout)
        said.setdefault(line, {}).update((grid.position_of(file.name, source), "") for source in sources)
    return said


def _blank(match: re.Match[str], cut: Redaction) -> str:
    """Return blanks of the same length, so that nothing moves; a value goes only where nothing else is beside it."""
    seen, text = match[0], match.string
    if seen.casefold() in {word.rstrip(" .").casefold() for word in cut.kept}:
        return seen
    if seen.casefold() in {word.rstrip(" .").casefold() for word in cut.words}:
        return " " * len(seen)
    before, behind = text[: match.start()].rstrip(), text[match.end() :].lstrip()
    is_alone = before[-1:] in _ENDS and behind[:1] in _ENDS
    return " " * len(seen) if is_alone else seen


_ENDS = ("", ",", ";", "\t", "|", '"', "'", "[", "]", "{", "}", ":")


def _taken(layout: Layout, text: pl.Series, line: int) -> int:
    """Return over how many lines the row runs that begins on a line."""
    if layout.form != "delimited" or '"' not in text[line - 1]:
        return 1
    place = pl.Series([line - 1]).to_numpy()
    return read_quoted(lines_after(text, place), [line - 1], layout.delimiter, 0)[0].taken


def _saying(layout: Layout, text: str, said: Mapping[int, str], headers: Sequence[str]) -> str:
    """Return the row with other texts in the cells at these positions, from 0."""
    match layout.form:
        case "json_lines":
            row = json.loads(text, parse_float=str, parse_int=str)
            return json.dumps(row | {headers[at]: told or None for at, told in said.items()}, ensure_ascii=False)
        case "fixed":
            bounds = [*(start - 1 for start in layout.starts), WIDEST]
            for at, told in said.items():
                begin, end = bounds[at], min(bounds[at + 1], len(text))
                text = text[:begin] + told[: end - begin].ljust(end - begin) + text[end:]
            return text
    if '"' not in text:
        cells = text.split(layout.delimiter)
        return layout.delimiter.join(said.get(at, cell) for at, cell in enumerate(cells))
    row = next(csv.reader(io.StringIO(text, newline=""), delimiter=layout.delimiter))
    left = (said.get(at, cell) for at, cell in enumerate(row))
    return layout.delimiter.join('"' + cell.replace('"', '""') + '"' for cell in left)


def _workbook(
    file: SourceFile, cuts: Sequence[tuple[Layout, Redaction]], changed: dict[int, str], sheets: Mapping[str, str]
) -> bytes:
    import xlsxwriter

    named = {layout.sheet or file.sheet_names[0]: layout.sheet for layout, _ in cuts}
    content = io.BytesIO()
    book = xlsxwriter.Workbook(content, {"strings_to_formulas": False, "strings_to_urls": False, "in_memory": True})
    # The first sheet is read where a layout names none, so it stays the first.
    for name in [one for one in file.sheet_names if one in named]:
        columns = [column.to_list() for column in file.sheet(named[name])]
        for layout, cut in cuts:
            if (layout.sheet or file.sheet_names[0]) == name:
                _cut_sheet(file, layout, cut, columns, changed)
        sheet = book.add_worksheet(sheets.get(name, name))
        if columns and columns[0]:
            columns[0][0] = columns[0][0] or " "  # else the sheet would begin further down or to the right
        for place, column in enumerate(columns):
            for row, cell in enumerate(column):
                if cell:
                    sheet.write_string(row, place, cell)
    book.close()
    return content.getvalue()


def _cut_sheet(
    file: SourceFile, layout: Layout, cut: Redaction, columns: list[list[str]], changed: dict[int, str]
) -> None:
    for line, cells in _said(file, layout, cut).items():
        for at, told in cells.items():
            columns[at][line - 1] = told
    found = cut.found
    for column in columns:
        for line in cut.lines:
            column[line - 1] = ""
        if found:
            for at in pl.Series(column, dtype=pl.String).str.contains(cut.pattern).arg_true().to_list():
                left = found.sub(lambda match: _blank(match, cut), column[at])
                if left != column[at]:
                    changed[at + 1] = f"{changed[at + 1]}, {column[at]}" if at + 1 in changed else column[at]
                    column[at] = left
