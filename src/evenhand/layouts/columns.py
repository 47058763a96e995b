"""The declared columns of a grid: every cell parsed, every row with a fault rejected once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import polars as pl

from evenhand.layouts.forms.grid import Grid
from evenhand.layouts.layout import Layout
from evenhand.layouts.ordering import first_year, last_year, order_of, refuse_order, refuse_turned, turned_in
from evenhand.layouts.reading import Cells, Reading, reject_totals, reject_units
from evenhand.layouts.timing import RowClocks, place_column
from evenhand.layouts.values.coded import Coded, parse_each
from evenhand.layouts.values.dates import ORDER_WORDS, style_of
from evenhand.layouts.values.fields import as_is, cell_parser
from evenhand.layouts.values.keyed import number_notices
from evenhand.layouts.values.no_end import OPEN_ENDED, is_no_end
from evenhand.layouts.values.words import WEAK, WORDS, plain
from evenhand.terms.columns import DTYPES, Column
from evenhand.terms.languages import in_a_row, sentence, told
from evenhand.terms.sources import SOURCES

__all__ = ["read_columns"]


def read_columns(
    name: str,
    grid: Grid,
    cells: Cells,
    layout: Layout,
    zones: Mapping[str, str],
    person_zones: Mapping[str, str],
    site_zones: Mapping[str, str],
) -> Reading:
    """Return every row's values; raises Refusal where the date order is open or the whole file's reader is unknown."""
    height = len(grid.lines)
    reading = Reading.of(grid)
    reject_totals(grid, reading)
    reject_units(grid, reading)
    found = order_of(layout, cells)
    refuse_order(name, found)
    refuse_turned(name, turned_in(layout, cells, found.order))
    if found.told_by == "log":
        reading.notices.append(
            told(
                "Dates were read as {order}, because {because}; if that is right, state it in the layout "
                '(date_order = "{as_stated}").',
                order=told(ORDER_WORDS[found.order]),
                because=found.because,
                as_stated=found.order,
            )
        )
    order = found.order
    clocks = RowClocks.of(name, layout, cells.coded, zones, person_zones, site_zones, height)
    for column in SOURCES[layout.table].columns:
        if column.name in cells.moments:
            last = last_year(layout, column)
            place_column(name, reading, grid, cells, column, order, clocks, last)
        elif column.name in cells.coded:
            _read_column(reading, layout, cells, column, order, clocks)
        elif column.name == "reader" and layout.reader:
            reading.values["reader"] = pl.repeat(clocks.whole_file, height, dtype=pl.String, eager=True)
    _fill(reading, layout, cells, height)
    return reading


def _read_column(reading: Reading, layout: Layout, cells: Cells, column: Column, order: str, clocks: RowClocks) -> None:
    coded = cells.coded[column.name]
    words = layout.words.get(column.name, {})
    first, last = first_year(layout), last_year(layout, column)
    parse = cell_parser(
        column,
        order=order,
        decimal=layout.decimal,
        words=words,
        number_width=(layout.number_width or 0) if column.name == "number" else 0,
        first_year=first,
        style=style_of(set(coded.values), first, last) if column.kind == "date" else None,
    )
    plain_text = as_is(column, words, layout.number_width or 0)
    if column.name in OPEN_ENDED:
        parse = _open_ended(parse)
        reading.notices += _no_ends_told(coded, cells.labels[column.name])
    if column.name == clocks.column:
        parse, plain_text = clocks.checked(parse), ""
    parsed = parse_each(coded, parse, DTYPES[column.kind], plain_text)
    reading.values[column.name] = parsed.values
    reading.reject_parsed(coded, parsed, cells.labels[column.name])
    if column.name == "number":
        reading.notices += number_notices(coded, layout.number_width)
    stated = {plain(word) for word in words}
    weak = sorted({plain(text) for text in coded.values} & WEAK[column.name] - stated) if column.name in WEAK else []
    if weak:
        said = [told("{word} as {meaning}", word=repr(word), meaning=WORDS[column.name][word]) for word in weak]
        reading.notices.append(
            told(
                "{label}: {said}; if the file means otherwise, say so under [words.{column}].",
                label=cells.labels[column.name],
                said=in_a_row("{one}, {other}", said),
                column=column.name,
            )
        )
    if column.name == clocks.column:
        reading.notices += clocks.notices()


def _open_ended(parse: Callable[[str], Any]) -> Callable[[str], Any]:
    return lambda text: None if is_no_end(text) else parse(text)


def _no_ends_told(coded: Coded, label: str) -> list[str]:
    """Say which days were read as no end, and in how many rows."""
    seen = [text for text in coded.values if is_no_end(text)]
    rows = int(np.isin(coded.codes, [coded.values.index(text) for text in seen]).sum())
    return (
        [told("{label}: {texts:listed} was read as no end, in {rows:,} rows.", label=label, texts=seen, rows=rows)]
        if rows
        else []
    )


def _fill(reading: Reading, layout: Layout, cells: Cells, height: int) -> None:
    """Fill what the tables say about cells that a file does not have."""
    if layout.table == "readers" and "zone" not in layout.columns:
        reading.values["zone"] = pl.repeat(layout.zone, height, dtype=pl.String, eager=True)
    if layout.table == "people":
        empty = pl.repeat(None, height, dtype=pl.String, eager=True)
        number = reading.values.get("number", empty)
        reading.values["person"] = person = reading.values.get("person", empty).fill_null(number)
        reason = sentence("neither an identifier nor a number is given; add one of them")
        reading.reject(person.is_null().to_numpy(), "person", "", reason)
    if layout.table == "punches" and "outcome" in cells.coded:
        reading.reject(
            reading.values["outcome"].is_null().to_numpy(),
            cells.labels["outcome"],
            "",
            sentence(
                "the log does not say whether the hand was accepted; correct the row, or say what an "
                'empty cell means under [words.outcome], such as "" = "accepted"'
            ),
        )
