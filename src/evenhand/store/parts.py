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

from evenhand.store.tables import PUNCH_SHIFT, STORED
from evenhand.store.whole_columns import read_columns
from evenhand.terms.columns import Frame
from evenhand.terms.tables import RECORDED

__all__ = ["add_missing", "add_parts", "read_parts"]

ROWS = 8192
ORDER = ("reader", "at", "punch")


def add_parts(conn: sa.Connection, recorded: Frame) -> None:
    """Write the punches (RECORDED) of one take, or of one reader in it, as parts that each span little time."""
    rows = [_part(part) for part in recorded.sort("at", "punch").iter_slices(ROWS)] if recorded.height else []
    if rows:
        conn.execute(STORED["punch_parts"].insert(), rows)


def read_parts(conn: sa.Connection, *bounds: sa.ColumnElement[bool]) -> Frame:
    """Return the punches (RECORDED) of every part that keeps to `bounds`, by reader and time."""
    stored = STORED["punch_parts"].c
    whole = sa.select(stored.content).where(stored["take"].not_in(_incomplete()), *bounds)
    contents = conn.execute(whole.order_by(stored["take"], stored.part)).scalars()
    parts = [RECORDED.empty(), *(pl.read_ipc_stream(BytesIO(content)) for content in contents)]
    if from_rows := list(_from_rows(conn)):
        return pl.concat(parts + from_rows).sort(ORDER)
    # Parts of one reader follow each other by take and line, so a stable sort by reader and time is enough, and a
    # sort of one whole number takes half the time of one of three columns.
    recorded = pl.concat(parts)
    reader = pl.col("reader").cast(pl.Enum(recorded["reader"].unique().sort())).to_physical()
    return recorded.sort(reader.cast(pl.Int64) * (1 << PUNCH_SHIFT + 8) + pl.col("at"), maintain_order=True)


def add_missing(conn: sa.Connection) -> None:
    """Make anew the parts of every take whose parts do not hold what it stored."""
    if not _is_incomplete(conn):
        return
    parts = STORED["punch_parts"]
    conn.execute(parts.delete().where(parts.c["take"].in_(_incomplete())))
    for recorded in list(_from_rows(conn)):
        by_take = recorded.with_columns(take=pl.col("punch") // (1 << PUNCH_SHIFT))
        for of_take in by_take.partition_by("take", include_key=False):
            add_parts(conn, of_take)


def _incomplete() -> sa.Select[tuple[int]]:
    takes, parts = STORED["takes"].c, STORED["punch_parts"].c
    held = sa.select(sa.func.coalesce(sa.func.sum(parts.height), 0)).where(parts["take"] == takes["take"])
    return sa.select(takes["take"]).where(takes.table == "punches", takes.taken != held.scalar_subquery())


def _is_incomplete(conn: sa.Connection) -> bool:
    return bool(conn.scalar(sa.select(_incomplete().exists())))


def _from_rows(conn: sa.Connection) -> Iterator[Frame]:
    """Yield the punches (RECORDED) of incomplete takes, those of each reader in turn."""
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
            yield read_columns(conn, RECORDED, rows.where(stored.reader == reader))


def _part(rows: Frame) -> dict[str, Any]:
    content = BytesIO()
    rows.sort(ORDER).write_ipc_stream(content, compression="zstd")
    return {
        "take": rows["punch"][0] >> PUNCH_SHIFT,
        "first_at": rows["at"][0],
        "last_at": rows["at"][-1],
        "height": rows.height,
        "content": content.getvalue(),
    }
