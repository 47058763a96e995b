"""Punches as Arrow columns beside their rows, some thousand a part, so that reading many costs little.

A punch never changes, so neither does a part. Parts are written in the transaction that stores the rows, and made
again from the rows where they do not hold what their take stored. The rows alone say what is known already.
"""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from typing import Any

import polars as pl
import sqlalchemy as sa

from evenhand.store.same_punch import DETAILS
from evenhand.store.tables import PUNCH_SHIFT, STORED
from evenhand.store.whole_columns import read_columns
from evenhand.terms.columns import Frame
from evenhand.terms.tables import RECORDED

__all__ = ["add_missing", "add_parts", "read_details", "read_parts"]

ROWS = 8192


def add_parts(conn: sa.Connection, recorded: Frame) -> None:
    """Write the punches (RECORDED) of one take as parts, each of one reader and of little time."""
    by_reader = (punches.sort("at", "punch") for punches in recorded.partition_by("reader"))
    rows = [_part(part) for punches in by_reader for part in punches.iter_slices(ROWS)]
    if rows:
        conn.execute(STORED["punch_parts"].insert(), rows)


def read_parts(conn: sa.Connection, *bounds: sa.ColumnElement[bool], is_sorted: bool = True) -> Frame:
    """Return the punches (RECORDED) of every part that keeps to `bounds`, by reader and time.

    They are as they were stored: what a log did not say is empty.
    """
    stored = STORED["punch_parts"].c
    named = (stored.reader, stored["take"], stored.part, stored.first_at, stored.last_at, stored.content)
    query = sa.select(*named).where(stored["take"].not_in(_incomplete()), *bounds)
    held: dict[str, list[Frame]] = {}
    ends: dict[str, tuple[int, int, int]] = {}
    overlapping: set[str] = set()
    for reader, take, part, first_at, last_at, content in conn.execute(query.order_by(stored.first_at, *named[1:3])):
        held.setdefault(reader, []).append(pl.read_ipc_stream(BytesIO(content)))
        if reader in ends and ends[reader] > (first_at, take, part):
            overlapping.add(reader)
        ends[reader] = (last_at, take, part)
    for reader, punches in _from_rows(conn):
        held.setdefault(reader, []).append(punches)
        overlapping.add(reader)
    # Parts that do not overlap are in order as they stand, and sorting costs more than reading.
    of_readers = ((reader, pl.concat(frames)) for reader, frames in sorted(held.items()))
    ordered = (
        punches.sort("at", "punch") if is_sorted and reader in overlapping else punches
        for reader, punches in of_readers
    )
    # In one piece, since every computation over hundreds of pieces costs more than laying them together once.
    return pl.concat([RECORDED.empty(), *ordered], rechunk=True)


def read_details(conn: sa.Connection, punches: pl.Series) -> Frame:
    """Return what later exports tell (DETAILS) of punches; also of others, of the same takes and those between."""
    stored = STORED["punch_details"].c
    first, last = punches.min(), punches.max()
    if first is None or conn.scalar(sa.select(stored.punch).limit(1)) is None:
        return DETAILS.empty()
    return read_columns(
        conn, DETAILS, sa.select(*(stored[name] for name in DETAILS.names)).where(stored.punch.between(first, last))
    )


def add_missing(conn: sa.Connection) -> list[int]:
    """Make anew the parts of every take whose parts do not hold what it stored, and return which takes these are."""
    takes = [take for (take,) in conn.execute(_incomplete()).all()]
    if not takes:
        return []
    parts = STORED["punch_parts"]
    conn.execute(parts.delete().where(parts.c["take"].in_(_incomplete())))
    for _, recorded in list(_from_rows(conn)):
        by_take = recorded.with_columns(take=pl.col("punch") // (1 << PUNCH_SHIFT))
        for of_take in by_take.partition_by("take", include_key=False):
            add_parts(conn, of_take)
    return sorted(takes)


def _incomplete() -> sa.Select[int]:
    takes, parts = STORED["takes"].c, STORED["punch_parts"].c
    held = sa.select(sa.func.coalesce(sa.func.sum(parts.height), 0)).where(parts["take"] == takes["take"])
    return sa.select(takes["take"]).where(takes.table == "punches", takes.taken != held.scalar_subquery())


def _is_incomplete(conn: sa.Connection) -> bool:
    return bool(conn.scalar(sa.select(_incomplete().exists())))


def _from_rows(conn: sa.Connection) -> Iterator[tuple[str, Frame]]:
    """Yield each reader with its punches (RECORDED) of incomplete takes."""
    if _is_incomplete(conn):
        stored = STORED["punches"].c
        columns = [
            (stored["take"] * (1 << PUNCH_SHIFT) + stored.line).label("punch"),
            *(stored[name] for name in ("reader", "number", "at")),
            *(sa.func.nullif(stored[name], "").label(name) for name in ("direction", "outcome")),
            stored.score,
        ]
        rows = sa.select(*columns).where(stored["take"].in_(_incomplete()))
        for reader in conn.scalars(sa.select(STORED["readers"].c.reader)).all():
            yield reader, read_columns(conn, RECORDED, rows.where(stored.reader == reader))


def _part(rows: Frame) -> dict[str, Any]:
    content = BytesIO()
    rows.write_ipc_stream(content, compression="zstd")
    return {
        "reader": rows["reader"][0],
        "take": rows["punch"][0] >> PUNCH_SHIFT,
        "first_at": rows["at"][0],
        "last_at": rows["at"][-1],
        "height": rows.height,
        "content": content.getvalue(),
    }
