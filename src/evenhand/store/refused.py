"""The refused rows of every take, each with its place and its reason."""

from __future__ import annotations

from collections.abc import Collection

import polars as pl
import sqlalchemy as sa

from evenhand.store.bulk import insert_rows
from evenhand.store.kept import REFUSED_ROWS
from evenhand.store.tables import STORED
from evenhand.store.whole_columns import read_columns
from evenhand.store.written import note_takes, note_takes_of
from evenhand.terms.columns import Frame

__all__ = ["add_refused", "forget_refused", "refused_rows", "takes_with_refused"]


def add_refused(conn: sa.Connection, take: int, rejects: Frame) -> None:
    """Add the refused rows (REJECTS) of a take."""
    names = [name for name in REFUSED_ROWS.names if name in rejects.columns]
    if rejects.height:
        insert_rows(conn, "refused_rows", rejects.select(names).with_columns(take=pl.lit(take)))
        note_takes(conn, "refused_rows", [take])


def forget_refused(conn: sa.Connection, takes: Collection[int]) -> None:
    """Forget the refused rows of some takes, which are read anew."""
    stored = STORED["refused_rows"]
    note_takes_of(conn, "refused_rows", stored.c["take"].in_(takes))
    conn.execute(stored.delete().where(stored.c["take"].in_(takes)))


def refused_rows(conn: sa.Connection, take: int) -> Frame:
    """Return the refused rows of one take (REFUSED_ROWS), in the order of their lines."""
    stored = STORED["refused_rows"].c
    query = sa.select(*(stored[name] for name in REFUSED_ROWS.names)).where(stored["take"] == take)
    return read_columns(conn, REFUSED_ROWS, query).sort("line", "refusal")


def takes_with_refused(conn: sa.Connection) -> dict[int, str]:
    """Return the takes that have refused rows kept, each with its file's name."""
    takes, stored = STORED["takes"].c, STORED["refused_rows"].c
    has = sa.select(stored["take"]).where(stored["take"] == takes["take"]).exists()
    return dict(iter(conn.execute(sa.select(takes["take"], takes.file).where(takes.refused > 0, has)).all()))
