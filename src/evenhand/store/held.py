"""Rows as they are stored, for whoever asks what is held on them: with the take they came with."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

import sqlalchemy as sa

from evenhand.store.tables import STORED

__all__ = ["all_rows", "earlier_identifiers", "rows_where", "stored_tables"]


def rows_where(conn: sa.Connection, table: str, column: str, values: Collection[Any]) -> list[dict[str, Any]]:
    """Return the rows of a table whose `column` has one of the values, by its key, without what is kept as bytes."""
    stored = STORED[table]
    readable = [one for one in stored.columns if not isinstance(one.type, sa.LargeBinary)]
    query = sa.select(*readable).where(stored.c[column].in_(list(values))).order_by(*stored.primary_key.columns)
    return [dict(row) for row in conn.execute(query).mappings()]


def all_rows(conn: sa.Connection, table: str) -> list[dict[str, Any]]:
    """Return every row of a table, by its key."""
    stored = STORED[table]
    return [dict(row) for row in conn.execute(sa.select(stored).order_by(*stored.primary_key.columns)).mappings()]


def earlier_identifiers(conn: sa.Connection, person: str) -> set[str]:
    """Return the identifier, and under which others of earlier rosters rows of the person are kept."""
    people = STORED["people"].c
    known = conn.scalars(sa.select(people.known_as).where(people.person == person, people.known_as.is_not(None)))
    return {person, *(str(one) for one in known)}


def stored_tables(conn: sa.Connection) -> list[str]:
    """Return the names of all tables of the store, in order."""
    return sorted(sa.inspect(conn).get_table_names())
