"""Store what a file holds: all of it, or nothing of it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
import polars as pl
import sqlalchemy as sa

from evenhand.store import keyed, punches
from evenhand.store.bulk import insert_rows
from evenhand.store.database import Store
from evenhand.store.faults import refusing
from evenhand.store.refused import add_refused
from evenhand.store.tables import STORED
from evenhand.store.takes import FileTaken, begin, finish, taken_on, takes_alone
from evenhand.store.written import entry_says, note_takes
from evenhand.terms.columns import Frame, Table
from evenhand.terms.tables import REJECTS

__all__ = ["FileStored", "FileTaken", "store_rows", "taking"]


Texts = Callable[[Frame], Frame]
"""Adds to rejected rows (REJECTS) the lines as they stand in the file."""


def as_they_are(rejects: Frame) -> Frame:
    """Return rejected rows without their lines."""
    return rejects


@dataclass(frozen=True)
class FileStored:
    """What became of a file's rows; `rejects` (REJECTS) are those that contradict another row of the file.

    Of the known punches, `enriched` say more than was known, and `differing` contradict the one of their second.
    `left_out` are the people whom a list of a part of the roster does not name, who stay listed.
    """

    take: int
    taken: int
    known: int
    gone: int
    rejects: Frame
    enriched: int = 0
    differing: int = 0
    left_out: int = 0


@contextmanager
def taking(
    store: Store,
    source: FileTaken,
    table: Table,
    frame: Frame,
    lines: npt.NDArray[np.int64],
    *,
    given: Collection[str] | None = None,
    roster: str = "",
    rejected: int = 0,
    rejects: Frame | None = None,
    with_texts: Texts = as_they_are,
    author: str = "",
) -> Iterator[FileStored]:
    """Store the rows of one file in one transaction, which ends with the `with` block; an exception undoes it.

    `given` names the columns that the file holds, all where it is None; `roster` says whether a list of people is the
    "whole" roster or a "part" of it, '' where nobody said. `rejects` (REJECTS) are the rows already
    rejected, `rejected` their number where they are not to be kept; `with_texts` adds their lines to others.
    `author` is who takes the file, of whom the ledger tells; '' where nobody said.
    Punches are matched and laid beside the store first, so that the lock that keeps others from writing is held only
    while they are copied in. Where rows of an enrolment list were rejected nothing is marked gone, since a rejected
    row may be the very one that is missing.
    """
    rejected = rejected if rejects is None else rejects.height
    with refusing(store.where), store.engine.connect() as conn:
        prepared = None
        if table.name == "punches":
            with conn.begin():
                prepared = punches.prepare(conn, frame, lines, to_minute=source.to_minute)
        with store.write(conn):
            entry_says(conn, author=author)
            takes_alone(conn)
            take = begin(conn, source, table)
            if prepared is not None:
                kept = _publish(conn, take, prepared)
            else:
                columns = given or table.names
                kept = _keep_keyed(
                    conn, table, frame, lines, take=take, given=columns, roster=roster, rejected=rejected
                )
            finish(conn, kept.take, **_counts(kept, frame.height, rejected))
            if rejects is not None:
                kept = _with_refused(conn, kept, rejects, with_texts)
            yield kept
        if table.name == "punches":
            with conn.begin():
                punches.clear(conn)


def store_rows(
    conn: sa.Connection,
    take: int,
    table: Table,
    frame: Frame,
    lines: npt.NDArray[np.int64],
    *,
    given: Collection[str],
    roster: str = "",
    rejects: Frame,
    with_texts: Texts = as_they_are,
) -> FileStored:
    """Store the rows of a take that has its number already, whose `rejects` (REJECTS) are kept beside them.

    Nothing of it may be stored any more.
    """
    if table.name == "punches":
        takes = STORED["takes"].c
        to_minute = bool(conn.scalar(sa.select(takes.to_minute).where(takes["take"] == take)))
        kept = _publish(conn, take, punches.prepare(conn, frame, lines, take, to_minute=to_minute))
        punches.clear(conn)
    else:
        kept = _keep_keyed(conn, table, frame, lines, take=take, given=given, roster=roster, rejected=rejects.height)
    finish(conn, kept.take, **_counts(kept, frame.height, rejects.height))
    return _with_refused(conn, kept, rejects, with_texts)


def _check_listed(conn: sa.Connection, frame: Frame) -> None:
    # Punches are found through their readers; one under an unlisted reader would be stored and never seen.
    unlisted = set(frame["reader"].unique()) - set(conn.scalars(sa.select(STORED["readers"].c.reader)))
    if unlisted:
        raise ValueError(f"punches under readers that are not listed: {sorted(unlisted)}")


def _with_refused(conn: sa.Connection, kept: FileStored, rejects: Frame, with_texts: Texts) -> FileStored:
    """Keep all rejected rows of a take, and return those of `kept` with their lines."""
    kept = replace(kept, rejects=with_texts(kept.rejects))
    add_refused(conn, kept.take, pl.concat([rejects, kept.rejects]).sort("line", maintain_order=True))
    return kept


def _publish(conn: sa.Connection, take: int, prepared: punches.Prepared) -> FileStored:
    """Store the punches that were prepared, and from when to when they reach."""
    frame = prepared.frame
    _check_listed(conn, frame)
    published = punches.publish(conn, take, prepared)
    reach = frame.group_by("reader").agg(first_at=pl.col("at").min(), last_at=pl.col("at").max())
    insert_rows(conn, "take_spans", reach.with_columns(take=pl.lit(take)))
    note_takes(conn, "take_spans", [take] if reach.height else [])
    return FileStored(
        take, published.taken, published.known, 0, REJECTS.empty(), published.enriched, published.differing
    )


def _keep_keyed(
    conn: sa.Connection,
    table: Table,
    frame: Frame,
    lines: npt.NDArray[np.int64],
    *,
    take: int,
    given: Collection[str],
    roster: str,
    rejected: int,
) -> FileStored:
    people = keyed.stored_rows(conn, table, frame) if table.name == "people" else frame.clear()
    checked = keyed.checked_against(table, people, frame, lines, taken_on(conn, take))
    is_whole = rejected + checked.rejects.height == 0
    kept = keyed.keep_rows(conn, table, checked.frame, take, given, is_whole=is_whole, roster=roster)
    known = checked.repeated + checked.frame.height - kept.taken
    return FileStored(take, kept.taken, known, kept.gone, checked.rejects, left_out=kept.left_out)


def _counts(kept: FileStored, height: int, rejected: int) -> dict[str, int]:
    return {
        "rows_read": height + rejected,
        "taken": kept.taken,
        "known": kept.known,
        "enriched": kept.enriched,
        "refused": rejected + kept.rejects.height,
        "gone": kept.gone,
    }
