"""Prove the ledger by itself: that its entries are whole and in order, and that its tree and its seals are theirs."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any

import sqlalchemy as sa

from evenhand.store.ledger_tables import LEDGER
from evenhand.terms.ledger.entries import who_digest
from evenhand.terms.ledger.head import Head
from evenhand.terms.ledger.merkle import join, leaf_hash, levels, nodes_of

__all__ = ["LedgerFault", "Log", "Sealed", "read_log"]

AT_ONCE = 20_000
Sealed = tuple[int, bytes | None, bytes]
"""The last entry that seals a row, its salt there and the digest."""


@dataclass(frozen=True)
class LedgerFault:
    """Something that is not as the ledger says: a sentence, and which entry, table and row it is about."""

    says: str
    entry: int | None = None
    table: str = ""
    row: str = ""


@dataclass
class Log:
    """What the ledger holds: the tree as its entries make it, the last seal of each row by table, and what is wrong."""

    tree: list[list[bytes]] = field(default_factory=list)
    seals: dict[str, dict[str, Sealed]] = field(default_factory=dict)
    files: dict[str, int] = field(default_factory=dict)  # the entry that tells of a file for payroll, by its digest
    faults: list[LedgerFault] = field(default_factory=list)

    @property
    def size(self) -> int:
        """Return how many entries there are."""
        return len(self.tree[0]) if self.tree else 0

    def head(self, size: int | None = None) -> Head:
        """Return the head as the entries make it, or as the first `size` of them do."""
        size = self.size if size is None else size
        return Head(size, join([self.tree[level][position] for level, position in nodes_of((0, size))]))


def read_log(conn: sa.Connection) -> Log:
    """Return the ledger with everything in it that does not agree, the entries in order."""
    log = Log()
    authors = _read_authors(conn, log)
    leaves: list[bytes] = []
    stored = LEDGER["ledger"]
    last = conn.scalar(sa.select(sa.func.max(stored.c.entry)))
    if last is None:
        log.faults.append(LedgerFault("The ledger is empty, where its first entry was."))
    for start in range(0, (-1 if last is None else last) + 1, AT_ONCE):
        _read_part(conn, log, leaves, authors, (start, start + AT_ONCE - 1))
    log.tree = list(levels(leaves))
    _check_tree(conn, log)
    _check_stray_seals(conn, log, last)
    return log


def _read_authors(conn: sa.Connection, log: Log) -> set[str]:
    found = set()
    stored = LEDGER["ledger_authors"].c
    for author, name, salt, digest in conn.execute(sa.select(stored.author, stored.name, stored.salt, stored.digest)):
        found.add(digest)
        if (name is None) != (salt is None) or (name is not None and who_digest(bytes(salt), name) != digest):
            log.faults.append(
                LedgerFault(
                    f"The name in row {author} of ledger_authors is not the one that entries were made under.",
                    None,
                    "ledger_authors",
                    f"[{author}]",
                )
            )
    return found


def _read_part(conn: sa.Connection, log: Log, leaves: list[bytes], authors: set[str], entries: tuple[int, int]) -> None:
    stored, rows = LEDGER["ledger"].c, LEDGER["ledger_rows"].c
    listed = conn.execute(
        sa.select(stored.entry, stored.content, stored.leaf)
        .where(stored.entry.between(*entries))
        .order_by(stored.entry)
    ).all()
    said = _parsed([content for _, content, _ in listed])
    seals = conn.execute(
        sa.select(rows.entry, rows.ordinal, rows.table, rows.row_key, rows.salt, rows.digest)
        .where(rows.entry.between(*entries))
        .order_by(rows.entry, rows.ordinal)
    )
    of_entries = groupby(_tuples(seals), key=_first)
    sealing, sealed = next(of_entries, (None, iter(())))
    for (entry, content, leaf), says in zip(listed, said, strict=True):
        for lost in range(len(leaves), entry):
            log.faults.append(LedgerFault(f"Entry {lost} is missing.", lost))
            leaves.append(b"")
        hashed = leaf_hash(content.encode())
        leaves.append(hashed)
        while sealing is not None and sealing < entry:
            sealing, sealed = next(of_entries, (None, iter(())))
        own = list(sealed) if sealing == entry else []
        if hashed != bytes(leaf) or says is None or says.get("entry") != entry:
            log.faults.append(LedgerFault(f"Entry {entry} was altered: it is not what its leaf was made of.", entry))
            _check_entry(log, entry, None, own, authors)
        else:
            _check_entry(log, entry, says, own, authors)


def _check_entry(log: Log, entry: int, says: dict[str, Any] | None, own: list[Any], authors: set[str]) -> None:
    """Hold what an entry says against its seals, and keep these as the last word on their rows."""
    found: dict[str, list[bytes]] = {}
    for place, (_, ordinal, table, key, salt, digest) in enumerate(own):
        if ordinal != place:
            log.faults.append(_unsealed(entry, table))
        found.setdefault(table, []).append(digest)
        log.seals.setdefault(table, {})[key] = (entry, salt, digest)
    if says is None:
        return
    stated = says["rows"]
    if len(stated) != len(found):
        for table in sorted(stated.keys() ^ found.keys()):
            log.faults.append(_unsealed(entry, table))
    for table, digests in found.items():
        of = stated.get(table)
        if of is not None and (
            of["count"] != len(digests) or of["sha256"] != hashlib.sha256(b"".join(digests)).hexdigest()
        ):
            log.faults.append(_unsealed(entry, table))
    if not authors.issuperset(says["who"]):
        log.faults.append(
            LedgerFault(f"Entry {entry} names somebody who is not in ledger_authors.", entry, "ledger_authors")
        )
    for file in says["says"].get("handoffs", ()):
        log.files |= dict.fromkeys(file.get("files", {}).values(), entry)


def _unsealed(entry: int, table: str) -> LedgerFault:
    return LedgerFault(
        f"What entry {entry} seals of {table} was altered: ledger_rows does not hold the digests that it was made of.",
        entry,
        table,
    )


def _check_tree(conn: sa.Connection, log: Log) -> None:
    stored = LEDGER["ledger_nodes"].c
    nodes: dict[int, dict[int, bytes]] = {}
    for level, position, hashed in _tuples(conn.execute(sa.select(stored.level, stored.position, stored.hash))):
        nodes.setdefault(level, {})[position] = hashed
    for level, hashes in enumerate(log.tree[1:], 1):
        held = nodes.pop(level, {})
        for position, hashed in enumerate(hashes):
            if held.pop(position, None) != hashed:
                first = position << level
                last = first + (1 << level) - 1
                log.faults.append(
                    LedgerFault(
                        f"Node {position} of level {level} of the tree is not made of entries {first} to {last}: one "
                        "of them was altered, or it was.",
                        first,
                        "ledger_nodes",
                        f"[{level},{position}]",
                    )
                )
        nodes |= {level: held} if held else {}
    for level, held in sorted(nodes.items()):
        for position in sorted(held):
            log.faults.append(
                LedgerFault(
                    f"Node {position} of level {level} of the tree is of entries that are missing.",
                    log.size,
                    "ledger_nodes",
                    f"[{level},{position}]",
                )
            )


def _check_stray_seals(conn: sa.Connection, log: Log, last: int | None) -> None:
    rows, entries = LEDGER["ledger_rows"].c, LEDGER["ledger"].c
    of_none = sa.select(rows.entry, rows.table, rows.row_key).where(
        ~sa.select(entries.entry).where(entries.entry == rows.entry).exists()
    )
    for entry, table, key in conn.execute(of_none.order_by(rows.entry, rows.ordinal)):
        log.faults.append(
            LedgerFault(
                f"ledger_rows seals row {key} of {table} in entry {entry}, which is missing.", entry, table, key
            )
        )


def _parsed(contents: Sequence[str]) -> list[dict[str, Any] | None]:
    """Return what each content says, None where it is no entry any more."""
    try:
        every = json.loads(f"[{','.join(contents)}]")
        if len(every) == len(contents) and all(map(_is_entry, every)):
            return list(every)
    except ValueError:
        pass
    return [_parse(content) for content in contents]


def _parse(content: str) -> dict[str, Any] | None:
    try:
        said = json.loads(content)
    except ValueError:
        return None
    return said if _is_entry(said) else None


def _is_entry(said: object) -> bool:
    return isinstance(said, dict) and said.keys() >= {"entry", "rows", "says", "who"}


def _first(row: Sequence[Any]) -> int:
    return int(row[0])


def _tuples(found: sa.CursorResult[Any]) -> Iterator[Any]:
    """Yield rows as the driver has them; a million of them cost a second less."""
    rows: Iterator[Any] = iter(found.cursor)  # type: ignore[call-overload]
    return rows
