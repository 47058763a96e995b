"""Read what a query selects in whole columns: the database writes each as one text, and no row passes through Python.

The drivers that hand over Arrow bring a SQLite of their own. Two copies of it in one program do not see each other's
locks on a file (https://www.sqlite.org/howtocorrupt.html, section 2.2.1), so that a checkpoint by the one takes away
what the other is still reading. A JSON array a column costs little more, on the very connection that holds the
transaction, and is the same on PostgreSQL.
"""

from __future__ import annotations

from typing import Any

import polars as pl
import sqlalchemy as sa

from evenhand.terms.columns import Frame, Kind, Table

__all__ = ["read_columns"]

WRITTEN: dict[Kind, pl.DataType] = {
    "text": pl.String(),
    "date": pl.String(),
    "money": pl.String(),
    "score": pl.String(),
    "yes_no": pl.Int64(),
    "instant": pl.Int64(),
    "seconds": pl.Int64(),
    "count": pl.Int64(),
}


def read_columns(conn: sa.Connection, table: Table, query: sa.Select[Any]) -> Frame:
    """Return the rows of `query`, in no particular order; it selects exactly the columns that `table` declares."""
    rows = query.subquery()
    array = sa.func.json_group_array if conn.dialect.name == "sqlite" else sa.func.json_agg
    columns = (_writable(conn, rows.c[column.name], column.kind) for column in table.columns)
    texts = conn.execute(sa.select(*(sa.cast(array(column), sa.Text) for column in columns))).one()
    if texts[0] in (None, "[]"):  # PostgreSQL has no array of nothing
        return table.empty()
    return table.frame(
        {column.name: _series(text, column.kind) for column, text in zip(table.columns, texts, strict=True)}
    )


def _writable(conn: sa.Connection, column: sa.ColumnElement[Any], kind: Kind) -> sa.ColumnElement[Any]:
    # SQLite's JSON shortens a float to 15 digits; what it quotes reads back as the same float.
    if kind != "score":
        return column
    if conn.dialect.name == "sqlite":
        return sa.case((column.is_not(None), sa.func.quote(column)))
    return sa.cast(column, sa.Text)


def _series(text: str, kind: Kind) -> pl.Series:
    values: pl.Series = pl.Series([text]).str.json_decode(pl.List(WRITTEN[kind]))[0]
    return values.str.to_date("%Y-%m-%d") if kind == "date" else values
