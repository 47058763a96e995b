"""Put many rows into a table at once, on the connection that holds the transaction."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa

from evenhand.terms.columns import Frame

__all__ = ["insert_rows"]

BATCH = 50_000


def insert_rows(conn: sa.Connection, table: str, rows: Frame) -> None:
    """Insert the rows into the columns of `table` that have the names of theirs; dates and money are texts already.

    The driver is handed tuples column by column; a statement built for each row costs several times what it stores.
    """
    driver: Any = conn.connection.driver_connection
    quoted = conn.dialect.identifier_preparer.quote
    into = f"{quoted(table)} ({', '.join(map(quoted, rows.columns))})"
    if conn.dialect.name == "sqlite":
        insert = f"INSERT INTO {into} VALUES ({', '.join('?' * rows.width)})"
        for part in rows.iter_slices(BATCH):
            driver.executemany(insert, zip(*(column.to_list() for column in part.iter_columns()), strict=True))
    else:
        with driver.cursor() as cursor, cursor.copy(f"COPY {into} FROM STDIN") as copy:
            for part in rows.iter_slices(BATCH):
                for row in part.iter_rows():
                    copy.write_row(row)
