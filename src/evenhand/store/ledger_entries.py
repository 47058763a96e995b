"""Read the ledger's entries back: what was done when and by whom, and the proofs of it for somebody outside."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import sqlalchemy as sa

from evenhand.store.ledger import hash_of, head, size
from evenhand.store.ledger_log import AT
from evenhand.store.ledger_tables import LEDGER
from evenhand.terms.languages import told
from evenhand.terms.ledger.canonical import canonical
from evenhand.terms.ledger.head import Head
from evenhand.terms.ledger.merkle import consistency_spans, inclusion_spans
from evenhand.terms.records import Refusal, Unknown

__all__ = [
    "LedgerEntry",
    "authors_named",
    "consistency_proof",
    "content_of",
    "inclusion_proof",
    "read_entries",
    "rows_sealed",
    "sealing",
    "sealing_entries",
]


@dataclass(frozen=True)
class LedgerEntry:
    """An entry: what was done, when [s since 1970-01-01T00:00:00Z] and by whom; None is a name that was erased.

    `rows` are how many rows it seals, by table, `says` what it says openly of them. Where it `goes_back` its time lies
    before that of the entry ahead of it: a clock was set back, or what it wrote was dated back.
    """

    entry: int
    at: int
    kind: str
    who: tuple[str | None, ...]
    rows: dict[str, int]
    says: dict[str, Any]
    goes_back: bool


def read_entries(
    conn: sa.Connection, *, kind: str = "", by: str = "", before: int | None = None, most: int = 100
) -> Iterator[LedgerEntry]:
    """Yield the newest entries first: those of a kind, or by somebody, or earlier than entry `before`."""
    stored, authors = LEDGER["ledger"].c, LEDGER["ledger_authors"].c
    names: dict[str, str | None] = dict(iter(conn.execute(sa.select(authors.digest, authors.name)).all()))
    query = _with_ahead().order_by(stored.entry.desc()).limit(most)
    # Canonical texts have one form alone, so that a name stands before its value exactly so.
    if kind:
        query = query.where(stored.content.contains(f'"kind":{json.dumps(kind)},', autoescape=True))
    if by:
        digests = [digest for digest, name in names.items() if name == by]
        query = query.where(stored.content.contains(f'"{digests[0]}"') if digests else sa.false())
    if before is not None:
        query = query.where(stored.entry < before)
    for entry, content, ahead in conn.execute(query):
        yield _entry(entry, content, ahead, names)


def content_of(conn: sa.Connection, entry: int) -> tuple[str, LedgerEntry]:
    """Return an entry's canonical content, and what it says; raises Unknown where there is none of this number."""
    stored, authors = LEDGER["ledger"].c, LEDGER["ledger_authors"].c
    found = conn.execute(_with_ahead().where(stored.entry == entry)).first()
    if found is None:
        raise Unknown(told("the ledger has no entry {entry}; `evenhand ledger` lists them.", entry=entry))
    names: dict[str, str | None] = dict(iter(conn.execute(sa.select(authors.digest, authors.name)).all()))
    number, content, ahead = found
    return content, _entry(number, content, ahead, names)


def sealing_entries(conn: sa.Connection, rows: Collection[tuple[str, str]]) -> dict[tuple[str, str], int]:
    """Return which entry sealed each of these rows first, named by table and number or name; few at a time."""
    stored = LEDGER["ledger_rows"].c
    keys = {(table, form): (table, key) for table, key in rows for form in _key_forms(key)}
    if not keys:
        return {}
    of_tables = stored.table.in_({table for table, _ in keys})
    query = sa.select(stored.table, stored.row_key, sa.func.min(stored.entry)).where(
        of_tables, stored.row_key.in_({form for _, form in keys})
    )
    found = conn.execute(query.group_by(stored.table, stored.row_key))
    return {keys[table, form]: entry for table, form, entry in found if (table, form) in keys}


def rows_sealed(conn: sa.Connection, entry: int) -> list[tuple[str, str]]:
    """Return the rows that an entry seals one by one, by table and number or name, in order."""
    stored = LEDGER["ledger_rows"].c
    query = sa.select(stored.table, stored.row_key).where(stored.entry == entry).order_by(stored.ordinal)
    keys = ((table, json.loads(key)) for table, key in conn.execute(query))
    # All rows of a take stand under one key that is no list: those are sealed together, not one by one.
    return [(table, str(key[0])) for table, key in keys if isinstance(key, list) and len(key) == 1]


def _key_forms(key: str) -> Iterator[str]:
    """Yield how the key of a row is written in the ledger: as a number, or as a text."""
    if key.isdigit():
        yield f"[{key}]"
    yield f"[{canonical(key).decode()}]"


def authors_named(conn: sa.Connection) -> list[str]:
    """Return everybody who has done something that the ledger tells of, but for names that were erased."""
    authors = LEDGER["ledger_authors"].c
    return list(conn.scalars(sa.select(authors.name).where(authors.name.is_not(None)).order_by(authors.name)))


def sealing(conn: sa.Connection, table: str) -> dict[str, tuple[int, int]]:
    """Return by its key the first and the last entry that seal each row of a table."""
    rows = LEDGER["ledger_rows"].c
    query = sa.select(rows.row_key, sa.func.min(rows.entry), sa.func.max(rows.entry)).where(rows.table == table)
    return {key: (first, last) for key, first, last in conn.execute(query.group_by(rows.row_key))}


def inclusion_proof(conn: sa.Connection, entry: int) -> tuple[Head, list[bytes]]:
    """Return the head now, and the hashes that prove that an entry is under it. Source: RFC 6962 section 2.1.1"""
    now = head(conn)
    if not 0 <= entry < now.size:
        raise Unknown(told("the ledger has no entry {entry}; `evenhand ledger` lists them.", entry=entry))
    return now, hash_of(conn, inclusion_spans(entry, now.size))


def consistency_proof(conn: sa.Connection, old: int) -> tuple[Head, Head, list[bytes]]:
    """Return the head of the first `old` entries, that of now, and the hashes that prove that this goes on from that.

    Source: RFC 6962 section 2.1.2
    """
    now = size(conn)
    if not 0 < old < now:
        raise Refusal(
            told(
                "the ledger has {count} entries, and is shown to go on from fewer; name a number from 1 to {most}.",
                count=now,
                most=now - 1,
            )
        )
    return head(conn, old), head(conn), hash_of(conn, consistency_spans(old, now))


def _with_ahead() -> sa.Select[Any]:
    """Return the query of entries: number, content, and the content of the entry ahead, None before the first."""
    stored, ahead = LEDGER["ledger"], LEDGER["ledger"].alias("ahead")
    both = stored.outerjoin(ahead, ahead.c.entry == stored.c.entry - 1)
    return sa.select(stored.c.entry, stored.c.content, ahead.c.content.label("ahead")).select_from(both)


def _entry(entry: int, content: str, ahead: str | None, names: dict[str, str | None]) -> LedgerEntry:
    said = json.loads(content)
    return LedgerEntry(
        entry,
        int(datetime.fromisoformat(said["at"]).timestamp()),
        said["kind"],
        tuple(sorted((names.get(digest) for digest in said["who"]), key=str)),
        {table: of["count"] for table, of in said["rows"].items()},
        said["says"],
        ahead is not None and content[:AT] < ahead[:AT],
    )
