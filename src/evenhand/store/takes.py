"""The list of files taken: adding to it, what each is read by now, and which take holds a content."""

from __future__ import annotations

import json
from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from typing import Any

import sqlalchemy as sa

from evenhand.store.known_again import known_as
from evenhand.store.tables import STORED
from evenhand.store.written import add_row, change_row
from evenhand.terms.columns import Table
from evenhand.terms.zones import civil_date

__all__ = [
    "FileTaken",
    "begin",
    "find_taken",
    "finish",
    "newest_take",
    "restand",
    "stored_take",
    "taken_on",
    "takes_alone",
    "was_erased_from",
]

COUNTS = ("rows_read", "taken", "known", "enriched", "refused", "gone")


@dataclass(frozen=True)
class FileTaken:
    """The file that rows come from, by the name and digest of its content, and what it was read by.

    `layout` names the kept layout, `layout_text` is the whole of it, `zones` what the settings said of zones (JSON),
    `clocks` the digest of the clocks that placed its times; without them nothing of it can be read again.
    """

    file: str
    sha256: str
    layout: str
    taken_at: int
    layout_text: str | None = None
    zones: str | None = None
    clocks: str | None = None
    to_minute: bool = False


def takes_alone(conn: sa.Connection) -> None:
    """Let nobody else take a file, or decide about a take, until the transaction ends."""
    if conn.dialect.name != "sqlite":  # which has one writing transaction at a time
        conn.exec_driver_sql("LOCK TABLE takes IN SHARE ROW EXCLUSIVE MODE")


def begin(conn: sa.Connection, source: FileTaken, table: Table) -> int:
    """Add a file to the list, with nothing stored of it yet, and return its number."""
    values = {
        "file": source.file,
        "sha256": source.sha256,
        "table": table.name,
        "layout": source.layout,
        "taken_at": source.taken_at,
        "layout_text": source.layout_text,
        "zones": source.zones,
        "clocks": source.clocks,
        "to_minute": int(source.to_minute),
        "is_back": 0,
        **dict.fromkeys(COUNTS, 0),
    }
    return add_row(conn, "takes", values)


def taken_on(conn: sa.Connection, take: int) -> date:
    """Return the day on which a file was taken, by the clock of the workplace that is ahead of all others."""
    takes = STORED["takes"].c
    at, said = conn.execute(sa.select(takes.taken_at, takes.zones).where(takes["take"] == take)).one()
    zones = {*conn.scalars(sa.select(STORED["readers"].c.zone))}
    if said:
        settings = json.loads(said)
        zones |= {settings["workplace"], *settings["sites"].values()}
    return max(civil_date(zone, at) for zone in zones - {"", None} or {"UTC"})


def finish(conn: sa.Connection, take: int, **counts: int) -> None:
    """Say what became of a take's rows, by COUNTS."""
    change_row(conn, "takes", take, counts)


def restand(
    conn: sa.Connection,
    take: int,
    *,
    table: str,
    clocks: str | None = None,
    to_minute: bool = False,
    is_back: bool = False,
    fault: str | None = None,
) -> None:
    """Say what a take is read by now; its counts are 0 until its rows are stored."""
    counts = dict.fromkeys(COUNTS, 0)
    said = {"table": table, "clocks": clocks, "to_minute": int(to_minute), "is_back": int(is_back), "fault": fault}
    change_row(conn, "takes", take, counts | said)


def find_taken(conn: sa.Connection, sha256: str, table: str | None = None) -> dict[str, Any] | None:
    """Return the row of `takes` under which this very content is stored, or None.

    Only a content that is wholly stored counts: it is not taken back, none of its rows was rejected and, where rows
    may be changed by later files, no later file of its table came in between.
    """
    takes, erased = STORED["takes"].c, STORED["erased_sources"].c
    now = sa.select(erased.sha256_after).where(
        erased.sha256_before.in_(known_as(conn, sha256))
    )  # what an erasure left of it
    stands = (
        sa.or_(takes.sha256 == sha256, takes.sha256.in_(now)),
        takes.refused == 0,
        takes.is_back == 0,
        takes.fault.is_(None),
    )
    same = sa.select(*takes).where(*stands).order_by(takes["take"].desc())
    for row in conn.execute(same if table is None else same.where(takes.table == table)).mappings():
        if row["table"] == "punches" or row["take"] == newest_take(conn, (row["table"],)):
            return dict(row)
    return None


def was_erased_from(conn: sa.Connection, sha256: str) -> int | None:
    """Return the take of a content from which somebody was erased since, None where it is none such."""
    erased = STORED["erased_sources"].c
    return conn.scalar(sa.select(erased["take"]).where(erased.sha256_before.in_(known_as(conn, sha256))).limit(1))


def stored_take(conn: sa.Connection, take: int) -> dict[str, Any]:
    """Return the row of `takes` of this number, which there must be."""
    takes = STORED["takes"]
    return dict(conn.execute(sa.select(takes).where(takes.c["take"] == take)).mappings().one())


def newest_take(conn: sa.Connection, tables: Collection[str]) -> int:
    """Return the number of the last file taken into any of these tables and not taken back, 0 where there is none."""
    takes = STORED["takes"].c
    return conn.scalar(sa.select(sa.func.max(takes.take)).where(takes.table.in_(tables), takes.is_back == 0)) or 0
