"""Clear from the disk what was erased from the store: free pages, the write-ahead log, rows that a server still holds.

Source: https://www.sqlite.org/pragma.html#pragma_secure_delete, https://www.sqlite.org/lang_vacuum.html,
https://www.sqlite.org/pragma.html#pragma_wal_checkpoint; PostgreSQL 15, VACUUM FULL.
"""

from __future__ import annotations

import sqlite3
from typing import Any

import sqlalchemy as sa

from evenhand.store.database import Store
from evenhand.store.faults import refusing
from evenhand.store.tables import STORED

__all__ = ["clear_disk", "is_clearing", "overwrite"]


def overwrite(conn: sa.Connection) -> None:
    """Have what this transaction deletes overwritten with zeros, where the database can."""
    if conn.dialect.name == "sqlite":
        conn.exec_driver_sql("PRAGMA secure_delete = ON")


def is_clearing(store: Store) -> bool:
    """Whether something erased is still to be cleared from the disk."""
    with store.reading() as conn:
        return conn.scalar(sa.select(STORED["clearing"].c.running).limit(1)) is not None


def clear_disk(store: Store) -> bool:
    """Write the database anew without its free pages, and empty its log; whether that could be done now.

    It cannot while another program reads from it. On a server its own log and its backups are for whoever runs it.
    """
    with refusing(store.where):
        if not (_vacuum_file(store) if store.is_embedded else _vacuum_server(store)):
            return False
    with store.writing() as conn:
        conn.execute(STORED["clearing"].delete())
    return True


def _vacuum_file(store: Store) -> bool:
    with store.engine.connect() as conn:
        raw: Any = conn.connection.driver_connection
        try:
            raw.execute("VACUUM")
            busy, *_ = raw.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        except sqlite3.OperationalError:  # it is locked
            return False
    return not busy


def _vacuum_server(store: Store) -> bool:
    with store.engine.connect().execution_options(isolation_level="AUTOCOMMIT") as conn:
        for name in sa.inspect(conn).get_table_names():
            conn.exec_driver_sql(f'VACUUM FULL "{name}"')
    return True
