"""Read a file by its layout: typed rows, and every row that is rejected with its line, column and reason."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import polars as pl

from evenhand.layouts.columns import read_columns
from evenhand.layouts.cut_short import reject_cut_short
from evenhand.layouts.forms.cell_errors import find_errors
from evenhand.layouts.forms.grid import TOTAL_LINE, Grid, Lines
from evenhand.layouts.layout import Layout
from evenhand.layouts.reading import Reading
from evenhand.layouts.source_file import SourceFile
from evenhand.terms.characters import escaped
from evenhand.terms.columns import Frame, Table
from evenhand.terms.languages import in_a_row, of_file, sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

__all__ = ["Rows", "read", "with_texts"]

Progress = Callable[[str, float], None]

UNTOLD_ERRORS = sentence(
    "Cells with a spreadsheet error cannot be told from empty ones in a workbook of this "
    "kind; save it as XLSX to have their rows named."
)
MOST_TOLD = 5  # lines of totals
SHOWN = 60  # characters of a rejected cell
LONGEST_TEXT = 2000  # characters of a rejected line
PRINTABLE = r"^[\x20-\x7e]*$"


@dataclass(frozen=True)
class Rows:
    """What a file holds: `frame` has the columns of `table`; `lines` (n rows,) is the line of each of its rows.

    `read` counts the rows of the file that are not blank: those of `frame` and of `rejects` together; lines of totals
    are no rows, and are told in a notice. `to_minute` says
    that the file writes no seconds: none of its times has them, or all of eight or more are zero.
    """

    table: Table
    frame: Frame
    lines: Lines
    rejects: Frame
    read: int
    notices: tuple[str, ...]
    to_minute: bool = False


def read(
    file: SourceFile,
    layout: Layout,
    *,
    zones: Mapping[str, str],
    site_zones: Mapping[str, str] | None = None,
    person_zones: Mapping[str, str] | None = None,
    progress: Progress | None = None,
) -> Rows:
    """Return the rows of a file, in its order; a row with a fault is rejected and the others are taken.

    `zones` maps each reader to the IANA zone of its clock, `person_zones` each person to that of their site; a person
    who is not in it gets the zone of `site_zones`, if all sites share one. Where the layout says in which zone the
    times are written, all of them run in it. Raises Refusal where going on would mislead.
    """
    report = progress or (lambda stage, fraction: None)
    if layout.zone:
        zones, person_zones, site_zones = (
            dict.fromkeys(clocks or {}, layout.zone) for clocks in (zones, person_zones, site_zones)
        )
    table = SOURCES[layout.table]
    _check_required(file.name, table, layout)
    report("cutting lines into cells", 0.0)
    grid = file.grid(layout)
    report("reading values", 0.4)
    reading = read_columns(file.name, grid, file.cells(layout), layout, zones, person_zones or {}, site_zones or {})
    reject_cut_short(file, layout, grid, reading)
    report("rejecting rows", 0.9)
    frame, lines = _taken(table, grid, reading)
    rejects = with_texts(file, layout, reading.rejects())
    is_total = rejects["reason"] == TOTAL_LINE
    notices = [*reading.notices, *_totals_told(rejects.filter(is_total))]
    rejects = rejects.filter(~is_total)
    if layout.form == "sheet" and find_errors(file.content, layout.sheet) is None:
        notices.insert(0, UNTOLD_ERRORS)
    if layout.form == "sheet":
        hidden = file.hidden(layout.sheet)
        if hidden.rows:
            notices.insert(
                0, told("Rows that are hidden in the sheet were read like the others: {rows}.", rows=hidden.rows)
            )
        if hidden.sheet:
            notices.insert(
                0,
                told(
                    "The sheet {sheet} is hidden in the workbook, and was read.",
                    sheet=repr(layout.sheet or file.sheet_names[0]),
                ),
            )
    if grid.preamble:
        notices.insert(0, told("Lines before the header, not read as rows: {count}.", count=grid.preamble))
    report("done", 1.0)
    return Rows(table, frame, lines, rejects, frame.height + rejects.height, tuple(notices), reading.to_minute)


def _totals_told(totals: Frame) -> list[str]:
    """Say which lines are those of totals, which are no rows and are left out."""
    if totals.is_empty():
        return []
    shown = totals.select("line", "text")[:MOST_TOLD].rows()
    lines = in_a_row(
        "{one}, {other}", [told("line {line} ({text})", line=line, text=text[:SHOWN].strip()) for line, text in shown]
    )
    if totals.height <= MOST_TOLD:
        return [told("Lines of totals, which are no rows, were left out: {lines}.", lines=lines)]
    more = totals.height - MOST_TOLD
    return [
        told("Lines of totals, which are no rows, were left out: {lines} and {more:,} more.", lines=lines, more=more)
    ]


def with_texts(file: SourceFile, layout: Layout, rejects: Frame) -> Frame:
    """Return REJECTS of the file with the line of each as it stands there; what does not show is written escaped."""
    written = file.as_written(layout, rejects["line"]).alias("text")
    return rejects.with_columns(_shown(rejects["seen"], SHOWN), _shown(written, LONGEST_TEXT))


def _check_required(name: str, table: Table, layout: Layout) -> None:
    for column in table.columns:
        said = (column.name == "reader" and layout.reader) or (
            table.name == "readers" and column.name == "zone" and layout.zone
        )
        if column.required and column.name not in layout.columns and not said:
            hint = told(", or name the reader the whole file comes from") if column.name == "reader" else ""
            raise Refusal(
                of_file(
                    name,
                    told(
                        "no column of the file is mapped to '{column}' ({meaning:low}), which {table} need; add it "
                        "under [columns] in the layout{hint}.",
                        column=column.name,
                        meaning=told(column.meaning),
                        table=told(table.name),
                        hint=hint,
                    ),
                )
            )


def _taken(table: Table, grid: Grid, reading: Reading) -> tuple[Frame, Lines]:
    frame = table.frame(reading.values)
    if not reading.rejected.any():
        return frame, grid.lines
    kept = ~reading.rejected
    return frame.filter(pl.Series(kept)), grid.lines[kept]


def _shown(seen: pl.Series, longest: int) -> pl.Series:
    """Return the beginning of each text, what cannot be printed written as its escape."""
    cut = seen.str.slice(0, longest)
    odd = ~cut.str.contains(PRINTABLE)
    return cut.scatter(odd.arg_true(), [escaped(text) for text in cut.filter(odd)]) if odd.any() else cut
