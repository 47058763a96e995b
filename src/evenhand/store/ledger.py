"""The ledger: an append-only list of entries, each of which seals what one transaction wrote, under a tree of hashes.

An entry is written in the transaction that it speaks of. No two transactions append at once, so that numbers have no
gaps and no two trees grow from one.
"""

from __future__ import annotations

import secrets
import time
from collections.abc import Collection, Iterable, Iterator, Mapping
from contextlib import contextmanager
from itertools import chain

import sqlalchemy as sa

from evenhand.store.driver import run, run_many
from evenhand.store.ledger_tables import LEDGER, OF_TAKES, row_tables
from evenhand.store.sealed import as_row, every_row, key_text, read_rows, read_takes, take_text, whole_of
from evenhand.store.tables import STORED
from evenhand.store.written import Key, Whole, Written
from evenhand.terms.languages import sentence, told
from evenhand.terms.ledger.canonical import Plain, Stored
from evenhand.terms.ledger.entries import BEGINNING, Seal, entry_text, kind_of, openly, seal, who_digest
from evenhand.terms.ledger.head import Head
from evenhand.terms.ledger.merkle import Node, Span, completed, join, leaf_hash, nodes_of
from evenhand.terms.records import Refusal

__all__ = ["append", "begin_ledger", "erase_author", "erase_seals", "erasing", "hash_of", "head", "size"]

SALT = 16  # bytes; as many as a random UUID has, so that nobody tries them through
INSERT_SEALS = 'INSERT INTO ledger_rows (entry, ordinal, "table", row_key, salt, digest) VALUES (?, ?, ?, ?, ?, ?)'
LAST = """SELECT entry, leaf, (SELECT digest FROM ledger_authors WHERE name = ?)
FROM ledger ORDER BY entry DESC LIMIT 1"""
NODE_LOST = sentence("node {node} of level {level} of its tree is missing")


def append(conn: sa.Connection, written: Written) -> None:
    """Append the entry that seals what was written; nothing where nothing was. Its transaction ends with it."""
    if not (written.rows or written.takes):
        return
    _alone(conn)
    found = {table: dict(read_rows(conn, table, keys)) for table, keys in written.rows.items()}
    added = [
        (table, found[table][key])
        for table, keys in written.rows.items()
        for key, is_new in keys.items()
        if is_new and key in found[table]
    ]
    says: dict[str, list[Plain]] = {}
    for table, row in added:
        if said := openly(table, row):
            says.setdefault(table, []).append(said)
    seals = [_seal(table, key_text(key), found[table].get(key)) for table, keys in written.rows.items() for key in keys]
    if written.takes:
        seals += _seals_of_takes(conn, written.takes)
    _write(
        conn,
        seals,
        at=_now(),
        kind=written.kind or _kind(added, written, found),
        authors=written.authors | {str(row["author"]) for _, row in added if row.get("author")},
        says=says,
    )


def begin_ledger(conn: sa.Connection) -> None:
    """Append the first entry, which seals everything that is there."""
    seals = chain(
        (
            _seal(table, key, dict(zip(columns, row, strict=True)))
            for table in row_tables()
            for columns, rows in [every_row(conn, table)]
            for key, row in rows
        ),
        (
            _seal(table, take_text(take), as_row(whole_of(rows)))
            for table in OF_TAKES
            for take, rows in read_takes(conn, table).items()
        ),
    )
    _write(conn, list(seals), at=_now(), kind=BEGINNING, authors=(), says={})


def size(conn: sa.Connection) -> int:
    """Return how many entries there are."""
    return int(run(conn, "SELECT coalesce(max(entry) + 1, 0) FROM ledger").fetchone()[0])


def head(conn: sa.Connection, at_size: int | None = None) -> Head:
    """Return the head of the ledger now, or as it was when it had `at_size` entries."""
    entries = size(conn) if at_size is None else at_size
    return Head(entries, hash_of(conn, [(0, entries)])[0])


def hash_of(conn: sa.Connection, spans: Iterable[Span]) -> list[bytes]:
    """Return the hashes of subtrees, read from the few nodes that each is made of."""
    listed = list(spans)
    nodes = {node for span in listed for node in nodes_of(span)}
    found: dict[Node, bytes] = {}
    if leaves := [position for level, position in nodes if level == 0]:
        query = f"SELECT entry, leaf FROM ledger WHERE entry IN ({', '.join('?' * len(leaves))})"
        found |= {(0, entry): leaf for entry, leaf in run(conn, query, leaves)}
    if above := [node for node in nodes if node[0]]:
        named = " OR ".join(["(level = ? AND position = ?)"] * len(above))
        query = f"SELECT level, position, hash FROM ledger_nodes WHERE {named}"
        rows = run(conn, query, [value for node in above for value in node])
        found |= {(level, position): hashed for level, position, hashed in rows}
    if lost := sorted(nodes - found.keys()):
        raise _damaged(conn, told(NODE_LOST, node=lost[0][1], level=lost[0][0]))
    return [join([found[node] for node in nodes_of(span)]) for span in listed]


@contextmanager
def erasing(conn: sa.Connection) -> Iterator[None]:
    """Let rows that are never changed be changed or taken out while the block lasts, by this transaction alone.

    What is done to them goes through `written.change_row` and `written.erase_row`, or is noted there with `note_takes`.
    """
    conn.execute(STORED["erasing"].insert().values(running=1))
    yield
    conn.execute(STORED["erasing"].delete())


def erase_seals(conn: sa.Connection, table: str, keys: Collection[Key] = (), takes: Collection[int] = ()) -> int:
    """Erase the salts of all that entries have said of these rows until now, and return of how many.

    Without its salt a digest tells nothing of the row as it was, and the log stays whole. For whoever erases a person:
    within `erasing`, in one transaction, change or take out the rows (`change_row`, `erase_row`; rows that takes
    brought by plain statements and `note_takes`), call this with the same keys, and say `entry_says(kind="erasure")`.
    The entry that ends the transaction then states what the rows are now, or that they are gone, under new salts.
    """
    rows = LEDGER["ledger_rows"]
    named = [key_text(key if isinstance(key, tuple) else (key,)) for key in keys] + [take_text(one) for one in takes]
    erased = 0
    for start in range(0, len(named), 500):
        is_named = rows.c.table == table, rows.c.row_key.in_(named[start : start + 500]), rows.c.salt.is_not(None)
        erased += conn.execute(rows.update().where(*is_named).values(salt=None)).rowcount
    return erased


def erase_author(conn: sa.Connection, name: str) -> bool:
    """Erase a name by which entries say who did something, within `erasing`; returns whether it stood there.

    The entries keep its digest, which without the salt tells nobody whose it was.
    """
    authors = LEDGER["ledger_authors"]
    return bool(conn.execute(authors.update().where(authors.c.name == name).values(name=None, salt=None)).rowcount)


def _alone(conn: sa.Connection) -> None:
    if conn.dialect.name != "sqlite":  # which has one writing transaction at a time
        conn.exec_driver_sql("LOCK TABLE ledger IN SHARE ROW EXCLUSIVE MODE")


def _seal(table: str, key: str, row: Mapping[str, Stored] | None) -> Seal:
    return seal(table, key, row, secrets.token_bytes(SALT))


def _seals_of_takes(conn: sa.Connection, noted: Mapping[str, Mapping[int, Whole | None]]) -> Iterator[Seal]:
    for table, takes in noted.items():
        unread = [take for take, whole in takes.items() if whole is None]
        read = {take: whole_of(rows) for take, rows in read_takes(conn, table, unread).items()} if unread else {}
        for take, whole in takes.items():
            yield _seal(table, take_text(take), as_row(whole or read.get(take)))


def _kind(
    added: list[tuple[str, dict[str, Stored]]],
    written: Written,
    found: Mapping[str, Mapping[tuple[int | str, ...], dict[str, Stored]]],
) -> str:
    if added:
        return kind_of(*added[0])
    for table, keys in written.rows.items():
        return kind_of(table, found[table].get(next(iter(keys)), {}))
    return "takes"


def _write(
    conn: sa.Connection,
    seals: list[Seal],
    *,
    at: int,
    kind: str,
    authors: Collection[str],
    says: Mapping[str, Plain],
) -> None:
    # In one statement with whoever is named, for there is mostly one: each costs an append some hundredth.
    named = sorted(authors)
    last = run(conn, LAST, (named[0] if named else None,)).fetchone()
    entry, last_leaf, digest = (last[0] + 1, *last[1:]) if last else (0, b"", None)
    who = [_author(conn, name) for name in named[1 if digest else 0 :]] + ([digest] if digest else [])
    content = entry_text(entry, at=at, kind=kind, who=who, seals=seals, says=says)
    leaf = leaf_hash(content.encode())
    made = completed(entry, leaf, lambda node: last_leaf if node[0] == 0 else _node(conn, node))
    nodes = [(*node, hashed) for node, hashed in made]
    sealed = [(entry, place, one.table, one.key, one.salt, one.digest) for place, one in enumerate(seals)]
    try:
        run(conn, "INSERT INTO ledger (entry, content, leaf) VALUES (?, ?, ?)", (entry, content, leaf))
        run_many(conn, "INSERT INTO ledger_nodes (level, position, hash) VALUES (?, ?, ?)", nodes)
        run_many(conn, INSERT_SEALS, sealed)
    except sa.exc.IntegrityError as fault:
        raise _damaged(conn, told("something stands already in the place of entry {entry}", entry=entry)) from fault


def _author(conn: sa.Connection, name: str) -> str:
    """Return the digest by which entries name somebody, which is the same in all of them."""
    known = run(conn, "SELECT digest FROM ledger_authors WHERE name = ?", (name,)).fetchone()
    if known is not None:
        return str(known[0])
    salt = secrets.token_bytes(SALT)
    made = who_digest(salt, name)
    run(conn, "INSERT INTO ledger_authors (name, salt, digest) VALUES (?, ?, ?)", (name, salt, made))
    return made


def _node(conn: sa.Connection, node: Node) -> bytes:
    found = run(conn, "SELECT hash FROM ledger_nodes WHERE level = ? AND position = ?", node).fetchone()
    if found is None:
        raise _damaged(conn, told(NODE_LOST, node=node[1], level=node[0]))
    return bytes(found[0])


def _damaged(conn: sa.Connection, what: str) -> Refusal:
    where = conn.engine.url.render_as_string(hide_password=True)
    return Refusal(
        told(
            "The ledger in {where} is damaged: {what}; nothing was changed: see `evenhand ledger verify`, "
            "and put back a backup.",
            where=where,
            what=what,
        )
    )


def _now() -> int:
    return int(time.time())  # noqa: TID251  when an entry was made, whatever its rows say
