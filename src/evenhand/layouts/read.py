"""Read a file by its layout: typed rows, and every row that was not taken with its line, column and reason."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.layouts.columns import read_columns
from evenhand.layouts.forms.grid import Fault, Grid, Lines
from evenhand.layouts.layout import Layout
from evenhand.layouts.reading import Reading
from evenhand.layouts.source import cut
from evenhand.terms.columns import Frame, Table
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES
from evenhand.terms.tables import REJECTS

__all__ = ["Rows", "read"]

Progress = Callable[[str, float], None]

SHOWN = 60  # characters of a refused cell


@dataclass(frozen=True)
class Rows:
    """What a file holds: `frame` has the columns of `table`; `lines` (n rows,) is the line of each of its rows.

    `read` counts the rows of the file that are not blank: those of `frame` and of `rejects` together.
    """

    table: Table
    frame: Frame
    lines: Lines
    rejects: Frame
    read: int
    notices: tuple[str, ...]


def read(
    name: str,
    content: bytes,
    layout: Layout,
    *,
    zones: Mapping[str, str],
    site_zones: Mapping[str, str] | None = None,
    person_zones: Mapping[str, str] | None = None,
    progress: Progress | None = None,
) -> Rows:
    """Return the rows of a file, in its order; a row with a fault is refused and the others are taken.

    `zones` maps each reader to the IANA zone of its clock, `person_zones` each person to that of their site; a person
    who is not in it gets the zone of `site_zones`, if all sites share one. Raises Refusal where going on would mislead.
    """
    tell = progress or (lambda stage, fraction: None)
    table = SOURCES[layout.table]
    _check_required(name, table, layout)
    tell("cutting lines into cells", 0.0)
    grid = cut(name, content, layout)
    tell("reading values", 0.4)
    reading = read_columns(name, grid, layout, zones, person_zones or {}, site_zones or {})
    tell("refusing rows", 0.9)
    frame, lines = _taken(table, grid, reading)
    rejects = _rejects([*grid.faults, *reading.faults(grid)])
    notices = list(reading.notices)
    if grid.preamble:
        notices.insert(0, f"Lines before the header, not read as rows: {grid.preamble}.")
    tell("done", 1.0)
    return Rows(table, frame, lines, rejects, frame.height + rejects.height, tuple(notices))


def _check_required(name: str, table: Table, layout: Layout) -> None:
    for column in table.columns:
        if column.required and column.name not in layout.columns and not (column.name == "reader" and layout.reader):
            hint = ", or name the reader the whole file comes from" if column.name == "reader" else ""
            raise Refusal(
                f"{name}: no column of the file is mapped to '{column.name}' ({column.meaning.lower()}), which "
                f"{table.name} need; add it under [columns] in the layout{hint}."
            )


def _taken(table: Table, grid: Grid, reading: Reading) -> tuple[Frame, Lines]:
    frame = table.frame(reading.values)
    if not reading.refused.any():
        return frame, grid.lines
    kept = ~reading.refused
    return frame.filter(pl.Series(kept)), grid.lines[kept]


def _rejects(faults: list[Fault]) -> Frame:
    order = np.argsort(np.array([fault.line for fault in faults], dtype=np.int64), kind="stable")
    listed = [faults[at] for at in order.tolist()]
    return REJECTS.frame(
        {
            "line": pl.Series([fault.line for fault in listed], dtype=pl.Int64),
            "column": pl.Series([fault.column for fault in listed], dtype=pl.String),
            "seen": pl.Series([_shown(fault.seen) for fault in listed], dtype=pl.String),
            "reason": pl.Series([fault.reason for fault in listed], dtype=pl.String),
        }
    )


def _shown(seen: str) -> str:
    cut = seen[:SHOWN]
    return (
        cut
        if cut.isprintable()
        else "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in cut)
    )
