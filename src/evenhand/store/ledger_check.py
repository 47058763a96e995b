"""Prove what is stored by the ledger: that every row is the one that was sealed last, and that none is missing."""

from __future__ import annotations

import gc
from collections.abc import Iterator, Mapping
from hashlib import sha256
from io import BytesIO

import polars as pl
import sqlalchemy as sa

from evenhand.store.ledger_log import LedgerFault, Log, Sealed, read_log
from evenhand.store.ledger_tables import OF_TAKES, row_tables
from evenhand.store.sealed import as_row, every_row, read_takes, take_text, whole_of
from evenhand.store.tables import PUNCH_SHIFT, STORED
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.ledger.canonical import row_text, row_writer
from evenhand.terms.tables import RECORDED

__all__ = ["check_rows", "prove"]

LINE = (1 << PUNCH_SHIFT) - 1


def prove(conn: sa.Connection) -> tuple[Log, list[LedgerFault]]:
    """Return the ledger, and all that is wrong with it and with what is stored, as the ledger seals it.

    What is read of a million rows is kept to the end: to look for garbage among it again and again finds none.
    """
    is_collecting = gc.isenabled()
    gc.disable()
    try:
        log = read_log(conn)
        return log, [*log.faults, *check_rows(conn, log)]
    finally:
        if is_collecting:
            gc.enable()


def check_rows(conn: sa.Connection, log: Log) -> Iterator[LedgerFault]:
    """Yield what is stored otherwise than the ledger seals it, table by table."""
    for table in row_tables():
        seals = log.seals.pop(table, {})
        columns, rows = every_row(conn, table)
        write = row_writer(table, columns)
        for key, row in rows:
            sealed = seals.pop(key, None)
            # As in `_is_sealed`, without a call for each of a million rows.
            if sealed is None or (salt := sealed[1]) is None or sha256(salt + write(key, row)).digest() != sealed[2]:
                yield _wrong(table, key, sealed)
        yield from _check_gone(table, seals)
    for table in OF_TAKES:
        seals = log.seals.pop(table, {})
        of_takes = read_takes(conn, table)
        for take, of_take in of_takes.items():
            key = take_text(take)
            sealed = seals.pop(key, None)
            if sealed is None or not _is_sealed(sealed, row_text(table, key, as_row(whole_of(of_take)))):
                yield _wrong(table, key, sealed)
        if table == "punches":
            yield from _check_parts(conn, of_takes)
        yield from _check_gone(table, seals)
    for table, seals in log.seals.items():
        entry = next(iter(seals.values()))[0]
        yield LedgerFault(
            told("Entry {entry} seals rows of {table}, which is no table of the store.", entry=entry, table=table),
            entry,
            table,
        )
    for table in ("folding", "erasing"):
        if conn.scalar(sa.select(sa.func.count()).select_from(STORED[table])):
            yield LedgerFault(
                told("{table} holds a row, which lets rows be taken out that never change.", table=table), None, table
            )


def _is_sealed(sealed: Sealed, text: bytes) -> bool:
    salt, digest = sealed[1], sealed[2]
    return salt is not None and sha256(salt + text).digest() == digest


def _wrong(table: str, key: str, sealed: Sealed | None) -> LedgerFault:
    if sealed is None:
        says = told("{row} belongs to no entry: nobody wrote it through evenhand.", row=_named(table, key))
        return LedgerFault(says, None, table, key)
    entry, salt = sealed[0], sealed[1]
    if salt is None:
        of = _named(table, key, begins=False)
        says = told(
            "The salt under which entry {entry} seals {row} is gone, and no later entry says what became of it.",
            entry=entry,
            row=of,
        )
    else:
        says = told("{row} is not what entry {entry} sealed: it was altered.", row=_named(table, key), entry=entry)
    return LedgerFault(says, entry, table, key)


def _check_gone(table: str, seals: Mapping[str, Sealed]) -> Iterator[LedgerFault]:
    """Yield the rows that are sealed and are not there, but for those whose last seal says that they are gone."""
    for key, sealed in seals.items():
        if not _is_sealed(sealed, row_text(table, key, None)):
            says = told("{row}, which entry {entry} sealed, is missing.", row=_named(table, key), entry=sealed[0])
            yield LedgerFault(says, sealed[0], table, key)


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
                told("Part {number} of punch_parts does not hold what it says.", number=part),
                None,
                "punch_parts",
                f"[{part}]",
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
                told(
                    "punch_parts does not hold the punches of take {number} as they are stored, first that of line "
                    "{line}.",
                    number=take,
                    line=line,
                ),
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


def _named(table: str, key: str, *, begins: bool = True) -> str:
    """Return in words which row it is, or which rows of a take; with a capital where a sentence `begins` so."""
    if table in OF_TAKES:
        of = {"number": key[8:-1], "table": table}
        if begins:
            return told("What was sealed together of take {number} in {table}", **of)
        return told("the rows of take {number} in {table}", **of)
    of = {"row": key[1:-1], "table": table}
    return told("Row {row} of {table}", **of) if begins else told("row {row} of {table}", **of)
