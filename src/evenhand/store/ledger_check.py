"""Prove what is stored by the ledger: that every row is the one that was sealed last, and that none is missing."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from io import BytesIO

import polars as pl
import sqlalchemy as sa

from evenhand.store.ledger_log import LedgerFault, Log, Sealed
from evenhand.store.ledger_tables import OF_TAKES, row_tables
from evenhand.store.sealed import as_row, key_text, read_rows, read_takes, take_text, whole_of
from evenhand.store.tables import PUNCH_SHIFT, STORED
from evenhand.terms.columns import Frame
from evenhand.terms.ledger.canonical import Stored, row_text
from evenhand.terms.tables import RECORDED

__all__ = ["check_rows"]

LINE = (1 << PUNCH_SHIFT) - 1


def check_rows(conn: sa.Connection, log: Log) -> Iterator[LedgerFault]:
    """Yield what is stored otherwise than the ledger seals it, table by table."""
    for table in row_tables():
        seals = log.seals.pop(table, {})
        for key, row in read_rows(conn, table):
            named = key_text(key)
            yield from _check(table, named, row, seals.pop(named, None))
        yield from _check_gone(table, seals)
    for table in OF_TAKES:
        seals = log.seals.pop(table, {})
        of_takes = read_takes(conn, table)
        for take, rows in of_takes.items():
            named = take_text(take)
            yield from _check(table, named, as_row(whole_of(rows)), seals.pop(named, None))
        if table == "punches":
            yield from _check_parts(conn, of_takes)
        yield from _check_gone(table, seals)
    for table, seals in log.seals.items():
        entry = next(iter(seals.values()))[0]
        yield LedgerFault(f"Entry {entry} seals rows of {table}, which is no table of the store.", entry, table)
    for table in ("folding", "erasing"):
        if conn.scalar(sa.select(sa.func.count()).select_from(STORED[table])):
            yield LedgerFault(f"{table} holds a row, which lets rows be taken out that never change.", None, table)


def _check(table: str, key: str, row: Mapping[str, Stored] | None, sealed: Sealed | None) -> Iterator[LedgerFault]:
    if sealed is None:
        yield LedgerFault(
            f"{_named(table, key)} belongs to no entry: nobody wrote it through evenhand.", None, table, key
        )
        return
    entry, salt, digest = sealed
    if salt is None:
        yield LedgerFault(
            f"The salt under which entry {entry} seals {_named(table, key, 'row', 'the rows')} is gone, and no later "
            "entry says what became of it.",
            entry,
            table,
            key,
        )
    elif hashlib.sha256(salt + row_text(table, key, row)).digest() != digest:
        yield LedgerFault(f"{_named(table, key)} is not what entry {entry} sealed: it was altered.", entry, table, key)


def _check_gone(table: str, seals: Mapping[str, Sealed]) -> Iterator[LedgerFault]:
    """Yield the rows that are sealed and are not there, but for those whose last seal says that they are gone."""
    for key, (entry, salt, digest) in seals.items():
        if salt is None or hashlib.sha256(salt + row_text(table, key, None)).digest() != digest:
            yield LedgerFault(f"{_named(table, key)}, which entry {entry} sealed, is missing.", entry, table, key)


def _check_parts(conn: sa.Connection, of_takes: Mapping[int, Frame]) -> Iterator[LedgerFault]:
    """Yield where the columns that hours are reckoned from do not hold the punches that are stored."""
    stored = STORED["punch_parts"].c
    held: dict[int, list[Frame]] = {}
    named = (stored["take"], stored.part, stored.reader, stored.first_at, stored.last_at, stored.height, stored.content)
    for take, part, reader, first_at, last_at, height, content in conn.execute(sa.select(*named)):
        rows = _read_part(content)
        if rows is None or (rows["reader"].unique().to_list(), rows["at"].min(), rows["at"].max(), rows.height) != (
            [reader],
            first_at,
            last_at,
            height,
        ):
            yield LedgerFault(
                f"Part {part} of punch_parts does not hold what it says.", None, "punch_parts", f"[{part}]"
            )
            continue
        held.setdefault(take, []).append(rows)
    for take in sorted(held.keys() | of_takes.keys()):
        parts = pl.concat([RECORDED.empty(), *held.get(take, [])]).sort("punch")
        rows = _as_recorded(take, of_takes[take]) if take in of_takes else RECORDED.empty()
        if not parts.equals(rows):
            other = parts.join(rows, on=RECORDED.names, how="anti", nulls_equal=True)
            lacks = rows.join(parts, on=RECORDED.names, how="anti", nulls_equal=True)
            line = min(pl.concat([other, lacks])["punch"].to_list(), default=0) & LINE
            yield LedgerFault(
                f"punch_parts does not hold the punches of take {take} as they are stored, first that of line {line}.",
                None,
                "punch_parts",
                take_text(take),
            )


def _read_part(content: bytes) -> Frame | None:
    try:
        return RECORDED.check(pl.read_ipc_stream(BytesIO(content)))
    except Exception:  # noqa: BLE001  whatever the library says of bytes that somebody has changed
        return None


def _as_recorded(take: int, rows: Frame) -> Frame:
    unsaid = (pl.when(pl.col(name) != "").then(pl.col(name)).alias(name) for name in ("direction", "outcome"))
    punch = pl.lit(take << PUNCH_SHIFT, pl.Int64) + pl.col("line")
    return rows.with_columns(*unsaid, punch=punch).select(RECORDED.names).sort("punch")


def _named(table: str, key: str, one: str = "Row", many: str = "What was sealed together") -> str:
    """Return in words which row it is, or which rows of a take."""
    if table in OF_TAKES:
        return f"{many} of take {key[8:-1]} in {table}"
    return f"{one} {key[1:-1]} of {table}"
