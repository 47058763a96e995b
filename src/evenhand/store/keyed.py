"""Store rows that have a key: new ones are added, changed ones replaced with the old values kept, others known."""

from __future__ import annotations

import json
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl
import sqlalchemy as sa
from polars import selectors as cs

from evenhand.store.bulk import insert_rows
from evenhand.store.roster import identified
from evenhand.store.row_changes import RowChanges, compare_rows
from evenhand.store.tables import INTEGER, STORED
from evenhand.store.whole_columns import read_columns
from evenhand.store.written import note_takes
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.languages import in_a_row, sentence, told
from evenhand.terms.tables import REJECTS

__all__ = [
    "Checked",
    "RowsStored",
    "checked_against",
    "keep_rows",
    "stored_rows",
    "without_conflicts",
]

SAID_ON = ("given_on", "withdrawn_on")
FEW = 500  # values of a key that are named one by one; of more, all rows are read
GONE = Column("gone", "count", "The taking since which it is listed no longer")
SET_BY = Column("set_by", "count", "The taking that the row is from")


@dataclass(frozen=True)
class Checked:
    """Rows of a file of which no two have the same key; `repeated` counts identical rows left out."""

    frame: Frame
    rejects: Frame
    repeated: int


def without_conflicts(table: Table, frame: Frame, lines: npt.NDArray[np.int64]) -> Checked:
    """Return the rows of `frame` with one row per key; a later row that says something else is refused.

    The roster's `person` is the number where a row has no identifier; a row with neither is refused. A text of the
    key that a row may leave out is '' there, since what is missing is never equal to itself.
    """
    rows = frame.with_columns(pl.Series("line", lines, dtype=pl.Int64))
    rejects: list[dict[str, Any]] = []
    if table.name == "people":
        rows = rows.with_columns(pl.coalesce("person", "number").alias("person"))
        rejects += _rejects_without_identifier(rows.filter(pl.col("person").is_null()))
        rows = rows.filter(pl.col("person").is_not_null())
    optional = [name for name in table.key if table.name != "people" and not table.column(name).required]
    rows = rows.with_columns(pl.col(name).fill_null("") for name in optional)
    first = rows.unique(subset=table.key, keep="first", maintain_order=True)
    later = rows.join(first.select("line"), on="line", how="anti", maintain_order="left")
    met = later.join(first, on=table.key, suffix="_first", maintain_order="left")
    others = [name for name in table.names if name not in table.key]
    differs = pl.any_horizontal(pl.col(name).ne_missing(pl.col(f"{name}_first")) for name in others)
    conflicting = met.filter(differs)
    rejects += [_conflict(table, others, row) for row in conflicting.iter_rows(named=True)]
    return Checked(first.select(table.names), REJECTS.rows(rejects), later.height - conflicting.height)


def _rejects_without_identifier(rows: Frame) -> list[dict[str, Any]]:
    reason = sentence("the row has neither an identifier nor a number for this person; give one of them")
    return [
        {"line": row["line"], "column": "person", "seen": row["name"], "reason": reason}
        for row in rows.iter_rows(named=True)
    ]


def _conflict(table: Table, others: Sequence[str], row: dict[str, Any]) -> dict[str, Any]:
    differing = [name for name in others if row[name] != row[f"{name}_first"]]
    key = ", ".join(f"{name} {row[name]}" for name in table.key)
    seen = row[differing[0]]
    return {
        "line": row["line"],
        "column": differing[0],
        "seen": None if seen is None else str(seen),
        "reason": told(
            "{key} stands on line {line} already, with another {others}; keep one of the two rows, or tell them apart "
            "by an identifier",
            key=key,
            line=row["line_first"],
            others=in_a_row("{one} and another {other}", differing),
        ),
    }


def checked_against(
    table: Table, people: Frame, frame: Frame, lines: npt.NDArray[np.int64], today: date | None = None
) -> Checked:
    """Return the rows of `frame` with one row per key; those of a roster as whom the stored `people` name them.

    What somebody is said to have signed or withdrawn after `today`, the day on which the file is taken, is refused:
    it would count from then on without anybody having said it.
    """
    refused = REJECTS.empty()
    if table.name == "people":
        frame, lines, refused = identified(people, frame, lines)
    if table.name == "consent" and today is not None:
        frame, lines, refused = _said_by(today, frame, lines)
    checked = without_conflicts(table, frame, lines)
    return replace(checked, rejects=pl.concat([refused, checked.rejects]).sort("line", maintain_order=True))


def _said_by(today: date, frame: Frame, lines: npt.NDArray[np.int64]) -> tuple[Frame, npt.NDArray[np.int64], Frame]:
    """Return the rows of consent that were said by a day, with their lines, and the others refused."""
    rows = frame.with_columns(pl.Series("line", lines, dtype=pl.Int64))
    ahead = [(pl.col(name) > today).fill_null(value=False) for name in SAID_ON]
    rejects = []
    for row in rows.filter(pl.any_horizontal(ahead)).iter_rows(named=True):
        name = next(one for one in SAID_ON if row[one] is not None and row[one] > today)
        reason = told(
            "{day:iso} is still to come; give the day on which it was signed or withdrawn, or take the row once it was",
            day=row[name],
        )
        rejects.append({"line": row["line"], "column": name, "seen": row[name].isoformat(), "reason": reason})
    kept = rows.filter(~pl.any_horizontal(ahead))
    return kept.drop("line"), kept["line"].to_numpy(), REJECTS.rows(rejects)


@dataclass(frozen=True)
class RowsStored:
    """How many rows of a file were new or changed, and how many that were listed before are so no longer.

    `left_out` are the people whom a part of the roster does not name, who stay listed.
    """

    taken: int
    gone: int
    left_out: int = 0


def keep_rows(
    conn: sa.Connection,
    table: Table,
    frame: Frame,
    take: int,
    given: Collection[str],
    *,
    is_whole: bool = True,
    roster: str = "",
) -> RowsStored:
    """Add or change the stored rows of `table`, and return how many.

    Keys of `frame` are unique. About the columns that are not in `given` the file says nothing, so what is
    stored in them stays. What is listed no longer where `is_whole` is marked gone: what the readers of an enrolment
    list held, and who stood on the roster, of the sites that it names, unless it is a part of it, see `missing_rows`.
    """
    found = compare_rows(table, stored_rows(conn, table, frame), frame, given, is_whole=is_whole, roster=roster)
    insert_rows(conn, table.name, _storable(found.added.select(table.names)).with_columns(take=pl.lit(take)))
    _note(conn, table, found, take)
    _change(conn, table, found.changed, found.columns, take)
    if found.identified.height:  # the number is the identified person's now: one that two hold would be nobody's
        given_up = found.identified.with_columns(pl.all().name.suffix("_before"))
        _change(conn, table, given_up.with_columns(number=pl.lit(None, pl.String)), ("number",), take)
        _update(conn, STORED[table.name], table.key, found.identified.select(*table.key, "known_as"), {})
    _update(conn, STORED[table.name], table.key, found.gone.select(table.key), {"gone": take})
    return RowsStored(found.added.height + found.changed.height, found.gone.height, found.left_out)


def stored_rows(conn: sa.Connection, table: Table, frame: Frame) -> Frame:
    """Return the stored rows that may have a key of `frame`, with `gone`, null where it is listed, and `set_by`.

    Of an enrolment list's readers all rows are returned, and of the roster.
    """
    stored = STORED[table.name].c
    gone = stored.gone if "gone" in stored else sa.cast(sa.null(), INTEGER).label("gone")
    query = sa.select(*(stored[name] for name in table.names), gone, stored["take"].label("set_by"))
    if frame.height:
        query = query.where(*(bound for name in table.key for bound in _bounds(table, stored, frame, name)))
    return read_columns(conn, replace(table, columns=(*table.columns, GONE, SET_BY)), query)


def _bounds(table: Table, stored: Any, frame: Frame, name: str) -> list[sa.ColumnElement[bool]]:
    kind = table.column(name).kind
    if table.name == "people" or (table.name == "enrolments" and name != "reader"):
        return []
    if kind == "text":
        values = frame[name].unique().to_list()
        return [stored[name].in_(values)] if len(values) <= FEW else []
    first, last = (str(bound) if kind == "date" else bound for bound in (frame[name].min(), frame[name].max()))
    return [stored[name].between(first, last)]


def _note(conn: sa.Connection, table: Table, found: RowChanges, take: int) -> None:
    """Note of which takes the rows are no longer what they were: those that are changed are this take's now."""
    others = pl.concat([found.changed["set_by"], found.gone["set_by"], found.identified["set_by"]])
    note_takes(conn, table.name, others.unique().to_list())
    changed = found.changed.height or found.identified.height
    if found.added.height or changed:
        note_takes(conn, table.name, [take])
    if changed:
        note_takes(conn, "changes", [take])


def _change(conn: sa.Connection, table: Table, changed: Frame, compared: Sequence[str], take: int) -> None:
    if changed.is_empty():
        return
    rows = _storable(changed)
    history = [
        {
            "table": table.name,
            "row_key": json.dumps({name: row[name] for name in table.key}),
            "was": json.dumps({name: row[f"{name}_before"] for name in compared}),
            "take": take,
        }
        for row in rows.iter_rows(named=True)
    ]
    conn.execute(STORED["changes"].insert(), history)
    listed_again = {name: None for name in ("gone", "known_as") if name in STORED[table.name].c}
    fixed: dict[str, int | None] = {"take": take, **listed_again}
    _update(conn, STORED[table.name], table.key, rows.select(*table.key, *compared), fixed)


def _update(
    conn: sa.Connection, stored: sa.Table, key: Sequence[str], rows: Frame, fixed: dict[str, int | None]
) -> None:
    if rows.is_empty():
        return
    at_key = sa.and_(*(stored.c[name] == sa.bindparam(f"key_{name}") for name in key))
    named = {name: f"key_{name}" for name in key}
    columns: dict[str, sa.BindParameter[Any]] = {name: sa.bindparam(name) for name in rows.columns if name not in key}
    conn.execute(stored.update().where(at_key).values(**columns, **fixed), rows.rename(named).to_dicts())


def _storable(frame: Frame) -> Frame:
    return frame.with_columns(cs.date().cast(pl.String), cs.decimal().cast(pl.String), cs.boolean().cast(pl.Int64))
