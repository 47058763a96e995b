"""Stored rows that have a key, as frames in the order of that key."""

from __future__ import annotations

import sqlalchemy as sa

from evenhand.store.identity import under_identifiers
from evenhand.store.tables import STORED
from evenhand.store.whole_columns import read_columns
from evenhand.terms.columns import Frame, Table

__all__ = ["keyed", "keyed_by_identifier"]


def keyed(
    conn: sa.Connection, table: Table, where: sa.ColumnElement[bool] | None = None, *, of: sa.Table | None = None
) -> Frame:
    """Return the stored rows of `table` in the order of its key, with exactly its declared columns.

    `of` is the stored table they stand in, where it is called otherwise.
    """
    stored = STORED[table.name] if of is None else of
    query = sa.select(*(stored.c[name] for name in table.names))
    return read_columns(conn, table, query if where is None else query.where(where)).sort(table.key)


def keyed_by_identifier(
    conn: sa.Connection, table: Table, where: sa.ColumnElement[bool] | None = None, *, of: sa.Table | None = None
) -> Frame:
    """Return the same under the identifiers that people have now."""
    return under_identifiers(conn, table, keyed(conn, table, where, of=of))
