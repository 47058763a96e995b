"""Suggest a layout for a file nobody described; a person confirms it before anything is stored."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

import polars as pl

from evenhand.layouts.content import Profile, look_at, naming
from evenhand.layouts.forms.grid import Grid
from evenhand.layouts.headers import map_columns, sources_of
from evenhand.layouts.layout import Layout
from evenhand.layouts.ordering import ask_order, order_of
from evenhand.layouts.proposal import Answers, Choice, ColumnUse, KnownCells, Proposal, Question
from evenhand.layouts.shape import drop_unnamed, find_delimiter, find_fixed, find_header, is_json_lines, usual_width
from evenhand.layouts.source_file import SEARCHED, SourceFile
from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.dates import parse_date
from evenhand.layouts.values.times import parse_time
from evenhand.layouts.values.words import plain
from evenhand.terms.columns import Table
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

__all__ = ["Sketch", "matches", "propose", "recognise", "sketch"]

NOTHING_SAID, NOTHING_KNOWN = Answers(), KnownCells()
NONE_KEPT: Mapping[str, Layout] = {}
SAMPLE = 150  # rows of which the cells are looked at


@dataclass(frozen=True)
class Sketch:
    """What a file looks like, whoever it comes from: how it is cut, lines from all over it, each column's cells."""

    shape: Layout
    grid: Grid
    cells: tuple[list[str], ...]
    profiles: tuple[Profile, ...]


def sketch(file: SourceFile, table: str | None = None) -> Sketch:
    """Return a sketch of the file, which may hold `table`; raises Refusal where it holds no table of rows."""
    shape = _shape(file, _tables(table))
    # Names that few objects have stand nowhere else, so that all lines of JSON are looked at.
    grid = file.grid(shape, is_sample=shape.form != "json_lines")
    if not len(grid.lines):
        raise Refusal(f"{file.name}: the file has a header but no rows; export it again.")
    cells = tuple(_some(column) for column in grid.columns)
    return Sketch(shape, grid, cells, tuple(look_at(of_column) for of_column in cells))


def propose(
    file: SourceFile,
    answers: Answers = NOTHING_SAID,
    known: KnownCells = NOTHING_KNOWN,
    kept: Mapping[str, Layout] = NONE_KEPT,
    seen: Sketch | None = None,
) -> Proposal:
    """Return how the file would be read, by a layout kept under some key or a fresh one, and what has to be asked.

    `seen` is the file's sketch, where it was made before. Raises Refusal for a file without a table of rows, and for
    answers that cannot be followed.
    """
    for key, layout in sorted(kept.items()):
        if answers.table in ("", layout.table) and matches(layout, file):
            return _by_kept(file, answers, known, key, layout)
    layout = recognise(
        file,
        table=answers.table or None,
        reader=answers.reader or None,
        known_readers=known.readers,
        seen=seen if not answers.table else None,
    )
    questions = [_whose(file.name, known)] if _lacks_reader(layout) else []
    layout = replace(layout, zone=answers.zone, number_width=answers.zeros)
    if answers.dates:
        return Proposal(replace(layout, date_order=answers.dates), _uses(file, layout), tuple(questions))
    found = order_of(layout, file.cells(layout), today=known.today, told=known.orders.get(layout.reader, ""))
    if asked := ask_order(file.name, found):
        questions.append(asked)
    layout = replace(layout, date_order=found.order)
    return Proposal(layout, _uses(file, layout), tuple(questions))


def _by_kept(file: SourceFile, answers: Answers, known: KnownCells, key: str, layout: Layout) -> Proposal:
    if not layout.reader:
        return Proposal(layout, _uses(file, layout), kept=key)
    # Every reader's export may look like the one this layout was kept for: whose it is has to be seen anew.
    reader = answers.reader or recognise(file, table=layout.table, known_readers=known.readers).reader
    questions = () if reader else (_whose(file.name, known),)
    return Proposal(replace(layout, reader=reader), _uses(file, layout), questions, kept=key)


def _lacks_reader(layout: Layout) -> bool:
    wants = any(column.name == "reader" and column.required for column in SOURCES[layout.table].columns)
    return wants and "reader" not in layout.columns and not layout.reader


def _whose(name: str, known: KnownCells) -> Question:
    choices = tuple(Choice(reader, f"every row is {reader}'s") for reader in sorted(known.readers))
    return Question("reader", f"{name} does not say which reader it comes from; name the reader.", choices)


def _uses(file: SourceFile, layout: Layout) -> tuple[ColumnUse, ...]:
    grid = file.grid(layout, is_sample=layout.form != "json_lines")
    names: dict[int, list[str]] = {}
    for name, sources in layout.columns.items():
        for source in sources:
            names.setdefault(grid.position_of(file.name, source), []).append(name)
    return tuple(
        ColumnUse(
            at + 1,
            grid.headers[at] if at < len(grid.headers) else "",
            tuple(names.get(at, ())),
            1.0,
            tuple(column.drop_nulls().unique(maintain_order=True)[:3].to_list()),
        )
        for at, column in enumerate(grid.columns)
    )


def recognise(
    file: SourceFile,
    *,
    table: str | None = None,
    reader: str | None = None,
    known_readers: Collection[str] = (),
    seen: Sketch | None = None,
) -> Layout:
    """Return the layout that `propose` gives, but for the order of the dates, from lines all over the file."""
    name = file.name
    tables = _tables(table)
    seen = seen or sketch(file, table)
    shape, grid = seen.shape, seen.grid
    profiles = [naming(*column, known_readers) for column in zip(seen.profiles, seen.cells, strict=True)]
    found: list[tuple[float, Table, dict[str, tuple[int, ...]]]] = []
    for each in tables:
        columns, fit = map_columns(each, grid.headers, profiles)
        missing = [c.name for c in each.columns if c.required and c.name not in columns and c.name != "reader"]
        lacks_reader = each.name == "readers" and "reader" not in columns
        found.append((fit - 1000 * (len(missing) + lacks_reader), each, columns))
    fit, chosen, columns = max(found, key=lambda one: one[0])
    if fit < 0 and not table:
        raise Refusal(
            f"{name}: the columns ({_seen(grid)}) are none of {', '.join(SOURCES)}; say which table this is, or write "
            "a layout that maps them."
        )
    layout = replace(shape, table=chosen.name, columns=sources_of(columns, grid.headers))
    layout = replace(layout, decimal=_decimal(grid, chosen, columns), reader=reader or "")
    needs_reader = any(column.name == "reader" and column.required for column in chosen.columns)
    if needs_reader and "reader" not in columns and not reader and chosen.name != "readers":
        layout = replace(layout, reader=_reader_named(file, layout, known_readers))
    for column in chosen.columns:
        if column.required and column.name not in layout.columns and not (column.name == "reader" and layout.reader):
            if column.name == "reader" and chosen.name != "readers":
                continue
            hint = "map it in a layout"
            raise Refusal(
                f"{name}: no column ({_seen(grid)}) seems to hold '{column.name}' ({column.meaning.lower()}); {hint}."
            )
    return layout


def _tables(table: str | None) -> list[Table]:
    return [SOURCES[table]] if table else list(SOURCES.values())


def _shape(file: SourceFile, tables: Sequence[Table]) -> Layout:
    """Return a layout that says how the file is cut, but not yet what its columns are."""
    if file.is_workbook:
        return _sheet_shape(file, tables)
    lines = file.lines()
    if is_json_lines(lines):
        return Layout(tables[0].name, "json_lines", {})
    if delimiter := find_delimiter(file):
        rows = file.delimited_rows(delimiter)
        header = find_header(rows, tables)
        width = 0 if header else usual_width(rows)[0]
        return Layout(tables[0].name, "delimited", {}, delimiter=delimiter, header=header, width=width)
    if starts := find_fixed(lines):
        texts = lines[:SEARCHED].to_list()
        ends = [*(start - 1 for start in starts[1:]), None]
        rows = [[text[a - 1 : b].strip() for a, b in zip(starts, ends, strict=True)] for text in texts]
        header = find_header(rows, tables)
        return Layout(tables[0].name, "fixed", {}, starts=drop_unnamed(lines, starts, header), header=header)
    raise Refusal(f"{file.name}: no table of rows is recognised; export it as CSV or XLSX with one row to a line.")


def _sheet_shape(file: SourceFile, tables: Sequence[Table]) -> Layout:
    """Return the shape of the first sheet with a header and rows, else of the first that has rows at all."""
    fallback: Layout | None = None
    names = file.sheet_names
    for sheet in names:
        columns = file.sheet(sheet)
        rows = [list(row) for row in zip(*(column[:SEARCHED] for column in columns), strict=True)]
        if len(columns) < 2 or not rows:
            continue
        shape = Layout(
            tables[0].name, "sheet", {}, sheet=sheet if len(names) > 1 else "", header=find_header(rows, tables)
        )
        if shape.header:
            return shape
        fallback = fallback or shape
    if fallback is None:
        raise Refusal(f"{file.name}: no sheet holds a table of rows; put the rows on a sheet of their own.")
    return fallback


def _some(column: pl.Series) -> list[str]:
    """Return cells from all over the column: a file may begin with an odd day."""
    step = max(1, column.len() // SAMPLE)
    return column.gather_every(step)[:SAMPLE].fill_null("").to_list()


def _decimal(grid: Grid, table: Table, columns: dict[str, tuple[int, ...]]) -> str:
    """Return ',' where numbers with fractions are written with a comma, else '.'."""
    commas = points = 0
    for column in table.columns:
        if column.kind in ("score", "money") and column.name in columns:
            cells = grid.columns[columns[column.name][0]]
            commas += int(cells.str.contains(r"\d,\d{1,2}\b").sum())
            points += int(cells.str.contains(r"\d\.\d{1,2}\b").sum())
    return "," if commas > points else "."


def _reader_named(file: SourceFile, layout: Layout, known_readers: Collection[str]) -> str:
    """Return the known reader that the file's name, or a line above its header, names; '' where none does."""
    above = ""
    if layout.form in ("delimited", "fixed") and layout.header > 1:
        above = " ".join(file.lines()[: layout.header - 1].to_list())
    for place in (file.name, above):
        words = f" {plain(place)} "
        named = sorted((reader for reader in known_readers if f" {plain(reader)} " in words), key=len)
        # DOCK stands inside DOCK-2: the longest name is meant where it holds the others.
        if named and all(f" {plain(shorter)} " in f" {plain(named[-1])} " for shorter in named):
            return named[-1]
    return ""


def _seen(grid: Grid) -> str:
    return ", ".join(grid.named(at) for at in range(len(grid.columns)))[:200]


def matches(layout: Layout, file: SourceFile) -> bool:
    """Return whether a kept layout fits the file: it can be cut so, and its columns hold what they should."""
    if file.is_workbook != (layout.form == "sheet"):
        return False
    try:
        if layout.form == "delimited" and layout.width and not file.has_rows(layout):
            return False
        grid = file.grid(layout, is_sample=True)
        if layout.width and not len(grid.lines):
            return False
        gathered = file.cells(layout, is_sample=True)
    except Refusal:
        return False
    if grid.rejects.height > len(grid.lines):
        return False
    for moments in gathered.moments.values():
        days, times = moments.dates.values[:SAMPLE], moments.times.values[:SAMPLE]
        if not _mostly(days, lambda text: parse_date(text, layout.date_order or "dmy", 1900)) and not layout.header:
            return False
        if not _mostly(times, parse_time) and not layout.header:
            return False
    return True


def _mostly(texts: Sequence[str], parse: object) -> bool:
    fits = 0
    for text in texts:
        try:
            parse(text)  # type: ignore[operator]
        except Unfit:
            continue
        fits += 1
    return fits * 2 >= len(texts)
