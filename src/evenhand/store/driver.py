"""Run statements that are ready as they stand on the driver itself, within the connection's transaction.

What is asked for once a transaction, or a million times, pays more for a statement built and a row wrapped than for the
database's work.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import sqlalchemy as sa

__all__ = ["run", "run_many"]


def run(conn: sa.Connection, statement: str, given: Sequence[Any] = ()) -> Any:
    """Return the driver's cursor for a statement with `?` for each of the values given; faults as the connection's."""
    return _run(conn, statement, given, is_many=False)


def run_many(conn: sa.Connection, statement: str, rows: Sequence[Sequence[Any]]) -> None:
    """Run a statement for each of the rows."""
    if len(rows) == 1:
        _run(conn, statement, rows[0], is_many=False)
    elif rows:
        _run(conn, statement, rows, is_many=True)


def _run(conn: sa.Connection, statement: str, given: Sequence[Any], *, is_many: bool) -> Any:
    driver: Any = conn.connection.driver_connection
    if conn.dialect.name != "sqlite":
        statement = statement.replace("?", "%s")
    try:
        cursor = driver.cursor()
        return cursor.executemany(statement, given) if is_many else cursor.execute(statement, given)
    except Exception as fault:
        faults: type[Exception] = conn.dialect.loaded_dbapi.Error
        if not isinstance(fault, faults):
            raise
        raise sa.exc.DBAPIError.instance(statement, None, fault, faults, dialect=conn.dialect) from fault
