"""The one door for single rows: what people decide and what happens is added here, and only here changed or erased."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import sqlalchemy as sa

from evenhand.store.tables import STORED

__all__ = ["Key", "add_row", "add_rows", "change_row", "erase_row"]

Key = int | str | tuple[int | str, ...]
"""What identifies a row: the value of its key, or the values in the key's order."""


def add_row(conn: sa.Connection, table: str, values: Mapping[str, Any]) -> int:
    """Add a row to a table with a running number, and return its number."""
    key = conn.execute(STORED[table].insert().values(dict(values))).inserted_primary_key
    assert key is not None
    return int(key[0])


def add_rows(conn: sa.Connection, table: str, rows: Iterable[Mapping[str, Any]]) -> None:
    """Add rows, each with its key."""
    if listed := [dict(row) for row in rows]:
        conn.execute(STORED[table].insert(), listed)


def change_row(conn: sa.Connection, table: str, key: Key, values: Mapping[str, Any]) -> None:
    """Change the row of this key; raises LookupError where there is none."""
    changed = conn.execute(STORED[table].update().where(_is_key(table, key)).values(dict(values)))
    if changed.rowcount != 1:
        raise LookupError(f"{table} has no row {key}")


def erase_row(conn: sa.Connection, table: str, key: Key) -> None:
    """Take the row of this key out for good; raises LookupError where there is none."""
    if conn.execute(STORED[table].delete().where(_is_key(table, key))).rowcount != 1:
        raise LookupError(f"{table} has no row {key}")


def _is_key(table: str, key: Key) -> sa.ColumnElement[bool]:
    columns = STORED[table].primary_key.columns
    values = key if isinstance(key, tuple) else (key,)
    return sa.and_(*(column == value for column, value in zip(columns, values, strict=True)))
