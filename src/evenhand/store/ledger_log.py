"""Prove the ledger by itself: that its entries are whole and in order, and that its tree and its seals are theirs."""

from __future__ import annotations

import hashlib
import json
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

import sqlalchemy as sa

from evenhand.store.driver import run
from evenhand.store.ledger_tables import LEDGER
from evenhand.terms.ledger.entries import FORM, rows_member, who_digest
from evenhand.terms.ledger.head import Head
from evenhand.terms.ledger.merkle import join, leaf_hash, levels, nodes_of

__all__ = ["LedgerFault", "Log", "Sealed", "read_log"]

AT_ONCE = 20_000
ENTRIES = "SELECT entry, content, leaf FROM ledger WHERE entry"
SEALS = 'SELECT entry, ordinal, "table", row_key, salt, digest FROM ledger_rows WHERE entry'
ROWS, WHO = ',"rows":{', ',"who":['
AT = len('{"at":"2026-03-02T14:05:00Z"')
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
    seals: defaultdict[str, dict[str, Sealed]] = field(default_factory=lambda: defaultdict(dict))
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
    own: dict[int, list[Any]] = {}
    for seal in run(conn, f"{SEALS} BETWEEN ? AND ? ORDER BY entry, ordinal", entries):
        own.setdefault(seal[0], []).append(seal)
    for entry, content, leaf in run(conn, f"{ENTRIES} BETWEEN ? AND ? ORDER BY entry", entries):
        for lost in range(len(leaves), entry):
            log.faults.append(LedgerFault(f"Entry {lost} is missing.", lost))
            leaves.append(b"")
        hashed = leaf_hash(content.encode())
        leaves.append(hashed)
        # An entry has one form alone, so that its members are looked at in its text: reading a million takes longer.
        is_whole = hashed == leaf and content.startswith(f',"entry":{entry},"form":{FORM},"kind":"', AT)
        is_whole = is_whole and all(member in content for member in (ROWS, WHO))
        if not is_whole:
            log.faults.append(LedgerFault(f"Entry {entry} was altered: it is not what its leaf was made of.", entry))
        _check_entry(log, entry, content if is_whole else None, own.get(entry, ()), authors)


def _check_entry(log: Log, entry: int, content: str | None, own: Sequence[Any], authors: set[str]) -> None:
    """Hold what an entry says against its seals, and keep these as the last word on their rows."""
    found: dict[str, list[bytes]] = {}
    place = 0
    for _, ordinal, table, key, salt, digest in own:
        place = place + 1 if ordinal == place else -1
        if table in found:
            found[table].append(digest)
        else:
            found[table] = [digest]
        log.seals[table][key] = (entry, salt, digest)
    if content is None:
        return
    # Within a text of JSON's a quotation mark stands behind a backslash, so that the first of these is the member.
    if not (place == len(own) and content.startswith(f',{rows_member(found)},"says":{{', content.index(ROWS))):
        log.faults.extend(_unsealed(entry, table) for table in _differing(_said(content, "rows"), found))
    who = content[content.rindex(WHO) + len(WHO) : -2]
    if who and who[1:-1] not in authors and not authors.issuperset(who[1:-1].split('","')):
        log.faults.append(
            LedgerFault(f"Entry {entry} names somebody who is not in ledger_authors.", entry, "ledger_authors")
        )
    if '"handoffs":[' in content:
        for file in _said(content, "says").get("handoffs", ()):
            log.files |= dict.fromkeys(file.get("files", {}).values(), entry)


def _said(content: str, member: str) -> dict[str, Any]:
    """Return a member of what an entry says, empty where somebody made it anew so that it cannot be read."""
    try:
        said = json.loads(content)[member]
    except (ValueError, KeyError):
        said = None
    return said if isinstance(said, dict) else {}


def _differing(stated: dict[str, Any], found: dict[str, list[bytes]]) -> list[str]:
    """Return the tables of which seals and entry differ; where it is their order alone, all of them."""
    made = {
        table: {"count": len(digests), "sha256": hashlib.sha256(b"".join(digests)).hexdigest()}
        for table, digests in found.items()
    }
    return [table for table in sorted(stated.keys() | made.keys()) if stated.get(table) != made.get(table)] or [*found]


def _unsealed(entry: int, table: str) -> LedgerFault:
    return LedgerFault(
        f"What entry {entry} seals of {table} was altered: ledger_rows does not hold the digests that it was made of.",
        entry,
        table,
    )


def _check_tree(conn: sa.Connection, log: Log) -> None:
    [highest] = run(conn, "SELECT coalesce(max(level), 0) FROM ledger_nodes").fetchone()
    for level in range(1, max(highest + 1, len(log.tree))):
        made = log.tree[level] if level < len(log.tree) else []
        held = run(
            conn, "SELECT position, hash FROM ledger_nodes WHERE level = ? ORDER BY position", (level,)
        ).fetchall()
        if held != list(enumerate(made)):
            log.faults.extend(_nodes_differing(level, made, dict(held), log.size))


def _nodes_differing(level: int, made: Sequence[bytes], held: dict[int, bytes], size: int) -> Iterator[LedgerFault]:
    for position in sorted(held.keys() | set(range(len(made)))):
        if position >= len(made):
            says = f"Node {position} of level {level} of the tree is of entries that are missing."
            yield LedgerFault(says, size, "ledger_nodes", f"[{level},{position}]")
        elif held.get(position) != made[position]:
            first, last = position << level, (position + 1 << level) - 1
            says = (
                f"Node {position} of level {level} of the tree is not made of entries {first} to {last}: one of them "
                "was altered, or it was."
            )
            yield LedgerFault(says, first, "ledger_nodes", f"[{level},{position}]")


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
