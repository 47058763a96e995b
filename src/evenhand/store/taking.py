"""Store what a file holds: all of it, or nothing of it."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
import sqlalchemy as sa

from evenhand.store import keyed, punches
from evenhand.store.database import Store, write
from evenhand.store.faults import refusing
from evenhand.store.tables import STORED
from evenhand.terms.columns import Frame, Table
from evenhand.terms.tables import REJECTS

__all__ = ["FileStored", "FileTaken", "find_taken", "newest_take", "taking"]


@dataclass(frozen=True)
class FileTaken:
    """The file that rows come from, by the name and digest of its content, and the layout it was read by."""

    file: str
    sha256: str
    layout: str
    taken_at: int


@dataclass(frozen=True)
class FileStored:
    """What became of a file's rows; `rejects` (REJECTS) are those that contradict another row of the file."""

    take: int
    taken: int
    known: int
    gone: int
    rejects: Frame


@contextmanager
def taking(
    store: Store,
    source: FileTaken,
    table: Table,
    frame: Frame,
    lines: npt.NDArray[np.int64],
    *,
    given: Collection[str] | None = None,
    rejected: int = 0,
) -> Iterator[FileStored]:
    """Store the rows of one file in one transaction, which ends with the `with` block; an exception undoes it.

    `given` names the columns that the file holds, all where it is None; `rejected` counts rows already rejected.
    Punches are laid beside the store first, so that the lock that keeps others from writing is held only while
    they are copied in. Where rows of an enrolment list were rejected nothing is marked gone, since a rejected row
    may be the very one that is missing.
    """
    with refusing(store.where), store.engine.connect() as conn:
        if table.name == "punches":
            identified = punches.identified(frame, lines)
            with conn.begin():
                punches.stage(conn, identified)
        with write(conn):
            if not store.is_embedded:
                conn.exec_driver_sql("LOCK TABLE takes IN SHARE ROW EXCLUSIVE MODE")
            take = _begin(conn, source, table, frame.height + rejected)
            if table.name == "punches":
                _check_listed(conn, frame)
                taken = punches.publish(conn, take)
                punches.add_columns(conn, take, identified, taken)
                kept = FileStored(take, taken, frame.height - taken, 0, REJECTS.empty())
            else:
                kept = _keep_keyed(conn, table, frame, lines, take=take, given=given or table.names, rejected=rejected)
            _finish(conn, kept, rejected)
            yield kept
        if table.name == "punches":
            with conn.begin():
                punches.clear(conn)


def find_taken(conn: sa.Connection, sha256: str, table: str | None = None) -> dict[str, Any] | None:
    """Return the row of TAKES under which this very content is stored, or None.

    Only a content that is wholly stored counts: none of its rows was rejected and, where rows may be changed by
    later files, no later file of its table came in between.
    """
    takes = STORED["takes"].c
    same = sa.select(*takes).where(takes.sha256 == sha256, takes.refused == 0).order_by(takes["take"].desc())
    for row in conn.execute(same if table is None else same.where(takes.table == table)).mappings():
        if row["table"] == "punches" or row["take"] == newest_take(conn, (row["table"],)):
            return dict(row)
    return None


def newest_take(conn: sa.Connection, tables: Collection[str]) -> int:
    """Return the number of the last file taken into any of these tables, 0 where there is none."""
    takes = STORED["takes"].c
    return conn.scalar(sa.select(sa.func.max(takes.take)).where(takes.table.in_(tables))) or 0


def _check_listed(conn: sa.Connection, frame: Frame) -> None:
    # Punches are found through their readers; one under an unlisted reader would be stored and never seen.
    unlisted = set(frame["reader"].unique()) - set(conn.scalars(sa.select(STORED["readers"].c.reader)))
    if unlisted:
        raise ValueError(f"punches under readers that are not listed: {sorted(unlisted)}")


def _keep_keyed(
    conn: sa.Connection,
    table: Table,
    frame: Frame,
    lines: npt.NDArray[np.int64],
    *,
    take: int,
    given: Collection[str],
    rejected: int,
) -> FileStored:
    checked = keyed.without_conflicts(table, frame, lines)
    is_whole = rejected + checked.rejects.height == 0
    kept = keyed.keep_rows(conn, table, checked.frame, take, given, is_whole=is_whole)
    known = checked.repeated + checked.frame.height - kept.taken
    return FileStored(take, kept.taken, known, kept.gone, checked.rejects)


def _begin(conn: sa.Connection, source: FileTaken, table: Table, rows_read: int) -> int:
    key = conn.execute(
        STORED["takes"]
        .insert()
        .values(
            file=source.file,
            sha256=source.sha256,
            table=table.name,
            layout=source.layout,
            taken_at=source.taken_at,
            rows_read=rows_read,
            taken=0,
            known=0,
            refused=0,
            gone=0,
        )
    ).inserted_primary_key
    assert key is not None
    return int(key[0])


def _finish(conn: sa.Connection, kept: FileStored, rejected: int) -> None:
    takes = STORED["takes"]
    conn.execute(
        takes.update()
        .where(takes.c["take"] == kept.take)
        .values(taken=kept.taken, known=kept.known, refused=rejected + kept.rejects.height, gone=kept.gone)
    )
