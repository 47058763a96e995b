"""The one door for single rows: what people decide and what happens is added here, and only here changed or erased."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import sqlalchemy as sa

from evenhand.store.tables import STORED
from evenhand.terms.lines import as_line

__all__ = ["Key", "add_row", "add_rows", "change_row", "erase_row"]

Key = int | str | tuple[int | str, ...]
"""What identifies a row: the value of its key, or the values in the key's order."""

OWN_WORDS = ("author", "reason", "title")
"""What people write in their own words, and notes, statements and terminals show."""


def add_row(conn: sa.Connection, table: str, values: Mapping[str, Any]) -> int:
    """Add a row to a table with a running number, and return its number; raises Refusal as `as_line` does."""
    key = conn.execute(STORED[table].insert().values(_clean(values))).inserted_primary_key
    assert key is not None
    return int(key[0])


def add_rows(conn: sa.Connection, table: str, rows: Iterable[Mapping[str, Any]]) -> None:
    """Add rows, each with its key."""
    if listed := [_clean(row) for row in rows]:
        conn.execute(STORED[table].insert(), listed)


def _clean(values: Mapping[str, Any]) -> dict[str, Any]:
    """Return the values with people's own words as one line each; raises Refusal where that cannot be."""
    own = {name: as_line(values[name]) for name in OWN_WORDS if isinstance(values.get(name), str)}
    return {**values, **own}


def change_row(conn: sa.Connection, table: str, key: Key, values: Mapping[str, Any]) -> None:
    """Change the row of this key; raises LookupError where there is none."""
    changed = conn.execute(STORED[table].update().where(_is_key(table, key)).values(_clean(values)))
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
