"""What a file would be read as and what taking it would change, before anything of it is stored."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import polars as pl

from evenhand.jobs.known import Surroundings
from evenhand.layouts import (
    NO_COLUMN,
    OWN_CLOCK,
    Answers,
    Choice,
    ColumnUse,
    Layout,
    Proposal,
    Question,
    Rows,
    SourceFile,
    answered,
)
from evenhand.terms.columns import Column, Frame
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Refusal
from evenhand.terms.zones import civil_date

__all__ = [
    "MOST_NAMED",
    "NO_COLUMN",
    "OWN_CLOCK",
    "Answers",
    "Choice",
    "ColumnUse",
    "FirstRow",
    "NotAsSeen",
    "Proposal",
    "Question",
    "RefusedRows",
    "RowsChanged",
    "Seen",
    "answered",
    "first_rows",
    "refused_rows",
]

FIRST = 5  # rows shown as written beside as read
MOST_NAMED = 2000
"""How many rows are named one by one where they are listed in full."""
REASONS = 8  # kinds of refused rows shown


class NotAsSeen(Exception):  # noqa: N818  (it is an answer: what was shown has changed meanwhile)
    """What would be done is not what a person was shown; nothing was done."""


@dataclass(frozen=True)
class FirstRow:
    """One of the first rows: its cells as written, by position, and what was read of them, by declared column.

    `reason` says why the row would be refused; `read` is empty then, and while it is open how the file is read.
    """

    line: int
    written: tuple[str, ...]
    read: Mapping[str, str]
    reason: str = ""


@dataclass(frozen=True)
class RefusedRows:
    """Rows that would be refused for one reason: how many, and the first of them, with what stands in its column."""

    reason: str
    rows: int
    line: int
    column: str
    seen: str


@dataclass(frozen=True)
class RowsChanged:
    """What taking would do to the store, in rows and in sentences that name whom it concerns.

    `gone` counts rows of before that the file lists no longer, `known` those that are there already, of which
    `knows_more` are punches that the file tells more of. `left_out` counts people listed before whom a file does not
    name that is a part of the roster, as it was said to be or as it names less than half of them: they stay listed.
    Where a sentence of `says` names only the first of those it tells of, `in_full` has up to `MOST_NAMED` at its place.
    """

    new: int
    changed: int
    gone: int
    known: int
    knows_more: int = 0
    left_out: int = 0
    says: tuple[str, ...] = ()
    in_full: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True)
class Seen:
    """A file as it would be taken: its proposal, first rows, refused rows, and what it would change.

    While `proposal.questions` is not empty nothing can be taken; `changes` is None where nothing can be read yet.
    `proposal.kept` names the kept layout it is read by ('': none fits), `taken_before` the take that holds this very
    content (0: none), `answers` what was said about it, `zones` in which zones the times of `first` are told, `fault`
    why the last answer could not be followed, `doubt` why it is unlikely to be what it is taken for. It `rests_on`
    other files, looked at with it, whose readers or people it names and nothing that was taken knows.
    """

    file: str
    proposal: Proposal
    answers: Answers
    taken_before: int = 0
    first: tuple[FirstRow, ...] = ()
    read: int = 0
    refused: int = 0
    refusals: tuple[RefusedRows, ...] = ()
    changes: RowsChanged | None = None
    notices: tuple[str, ...] = ()
    zones: tuple[str, ...] = ()
    fault: str = ""
    doubt: str = ""
    rests_on: tuple[str, ...] = ()


def first_rows(
    file: SourceFile, layout: Layout, rows: Rows | None, surroundings: Surroundings
) -> tuple[tuple[FirstRow, ...], tuple[str, ...]]:
    """Return the first rows of the file, as written and, where `rows` are read, as read or with why they are not.

    Beside them the zones in which their times are told.
    """
    try:
        grid = file.grid(layout, is_sample=rows is None)
    except Refusal:
        return (), ()
    lines = [int(line) for line in grid.lines[:FIRST]]
    cells = [column[:FIRST].fill_null("").to_list() for column in grid.columns]
    zones: list[str] = []
    read: dict[int, dict[str, str]] = {}
    reasons: dict[int, str] = {}
    if rows is not None:
        named = [column for column in rows.table.columns if not rows.frame[column.name].is_null().all()]
        for line, row in zip(rows.lines[:FIRST], rows.frame.head(FIRST).iter_rows(named=True), strict=True):
            zone = _zone(row, surroundings)
            if int(line) in lines and any(column.kind == "instant" for column in named):
                zones.append(zone)
            read[int(line)] = {column.name: as_read(row[column.name], column, zone) for column in named}
        refused = rows.rejects.filter(pl.col("line").is_in(lines))
        reasons = dict(refused.select("line", "reason").iter_rows())
    first = tuple(
        FirstRow(line, tuple(column[place] for column in cells), read.get(line, {}), reasons.get(line, ""))
        for place, line in enumerate(lines)
    )
    return first, tuple(dict.fromkeys(zones))


def as_read(value: Any, column: Column, zone: str) -> str:
    """Return a value in words; an instant is told on the wall in `zone`, with its seconds where there are any."""
    if value is None:
        return ""
    match column.kind:
        case "instant":
            return told("{day}, {at:clock}", day=civil_date(zone, value), at=Moment(value, zone))
        case "date":
            return told("{day}", day=value)
        case "yes_no":
            return told("yes") if value else told("no")
        case "score":
            return f"{value:g}"
        case "money":
            return f"{value.normalize():f}"
    return str(value)


def _zone(row: Mapping[str, object], surroundings: Surroundings) -> str:
    reader, person = row.get("reader"), row.get("person")
    zones = surroundings.reader_zones
    return zones.get(str(reader)) or surroundings.person_zones.get(str(person)) or "UTC"


def refused_rows(rejects: Frame) -> tuple[RefusedRows, ...]:
    """Return the refused rows (REJECTS) by reason, the commonest first."""
    by_reason = rejects.group_by("column", "reason", maintain_order=True).agg(
        pl.len().alias("rows"), pl.col("line").first(), pl.col("seen").first().fill_null("")
    )
    ranked = by_reason.sort("rows", descending=True, maintain_order=True).head(REASONS)
    return tuple(RefusedRows(**row) for row in ranked.iter_rows(named=True))
