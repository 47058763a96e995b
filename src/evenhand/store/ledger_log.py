"""Prove the ledger by itself: that its entries are whole and in order, and that its tree and its seals are theirs."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import repeat

import sqlalchemy as sa

from evenhand.store.driver import run
from evenhand.store.ledger_tables import LEDGER
from evenhand.terms.languages import told
from evenhand.terms.ledger.entries import EARLIER_FORMS, FORM, rows_member, table_member, who_digest
from evenhand.terms.ledger.head import Head
from evenhand.terms.ledger.merkle import join, leaf_hash, levels, nodes_of

__all__ = ["AT", "LedgerFault", "Log", "Sealed", "read_log"]

AT_ONCE = 2_000
ENTRIES = "SELECT entry, content, leaf FROM ledger WHERE entry"
SEALS = 'SELECT entry, salt, digest, ordinal, "table", row_key FROM ledger_rows WHERE entry'
ROWS, WHO = ',"rows":{', ',"who":['
AT = len('{"at":"2026-03-02T14:05:00Z"')
"""With how many letters an entry's text says its time; they order as the times do."""
Sealed = tuple[int, bytes | None, bytes, int, str, str]
"""A seal of a row: its entry, its salt there, the digest, which of the entry's seals it is, the table, and the key."""
Knows = Callable[[str], bool]
"""Whether everybody whom an entry names, in the text of its member, is somebody whom the ledger knows."""


@dataclass(frozen=True)
class LedgerFault:
    """Something that is not as the ledger says: a sentence, and which entry, table and row it is about."""

    says: str
    entry: int | None = None
    table: str = ""
    row: str = ""


@dataclass
class Log:
    """What the ledger holds: the tree as its entries make it, the last seal of each row by table, and what is wrong.

    `goes_back` are the entries whose time lies before that of the entry ahead of them, `last_at` is the last one's.
    """

    tree: list[list[bytes]] = field(default_factory=list)
    seals: defaultdict[str, dict[str, Sealed]] = field(default_factory=lambda: defaultdict(dict))
    faults: list[LedgerFault] = field(default_factory=list)
    goes_back: list[int] = field(default_factory=list)
    last_at: str = ""

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
    knows = _knowing(_read_authors(conn, log))
    leaves: list[bytes] = []
    [last] = run(conn, "SELECT max(entry) FROM ledger WHERE entry >= 0").fetchone()
    if last is None:
        log.faults.append(LedgerFault(told("The ledger is empty, where its first entry was.")))
        last = -1
    for start in range(0, last + 1, AT_ONCE):
        _read_part(conn, log, leaves, knows, (start, min(start + AT_ONCE - 1, last)))
    log.tree = list(levels(leaves))
    _check_tree(conn, log)
    _check_outside(conn, log, last)
    return log


def _read_authors(conn: sa.Connection, log: Log) -> set[str]:
    found = set()
    stored = LEDGER["ledger_authors"].c
    for author, name, salt, digest in conn.execute(sa.select(stored.author, stored.name, stored.salt, stored.digest)):
        found.add(digest)
        if (name is None) != (salt is None) or (name is not None and who_digest(bytes(salt), name) != digest):
            log.faults.append(
                LedgerFault(
                    told(
                        "The name in row {number} of ledger_authors is not the one that entries were made under.",
                        number=author,
                    ),
                    None,
                    "ledger_authors",
                    f"[{author}]",
                )
            )
    return found


def _knowing(authors: set[str]) -> Knows:
    @cache
    def knows(who: str) -> bool:
        return not who or authors.issuperset(who[1:-1].split('","'))

    return knows


def _read_part(conn: sa.Connection, log: Log, leaves: list[bytes], knows: Knows, entries: tuple[int, int]) -> None:
    """Read some entries and their seals, keep these as the last word on their rows, and hold each against the other."""
    own: dict[int, list[Sealed]] = {}
    for seal in run(conn, f"{SEALS} BETWEEN ? AND ? ORDER BY entry, ordinal", entries):
        entry, _, _, _, table, key = seal
        log.seals[table][key] = seal
        if entry in own:
            own[entry].append(seal)
        else:
            own[entry] = [seal]
    held = run(conn, f"{ENTRIES} BETWEEN ? AND ? ORDER BY entry", entries).fetchall()
    seals = [own.pop(entry, []) for entry, _, _ in held]
    made = [leaf_hash(content.encode()) for _, content, _ in held]
    _note_times(log, held)
    if len(held) == entries[1] - entries[0] + 1 and _are_whole(held, seals, made, knows):
        leaves += made
    else:
        for (entry, content, leaf), of_entry, hashed in zip(held, seals, made, strict=True):
            for lost in range(len(leaves), entry):
                log.faults.append(LedgerFault(told("Entry {entry} is missing.", entry=lost), lost))
                leaves.append(b"")
            leaves.append(hashed)
            log.faults.extend(_entry_faults(entry, content, of_entry, knows, is_leaf=hashed == leaf))
    log.faults.extend(_of_none(seal) for strays in own.values() for seal in strays)


def _note_times(log: Log, held: Sequence[tuple[int, str, bytes]]) -> None:
    """Note which entries say an earlier time than the one ahead of them; the text of a time orders as the time does."""
    times = [log.last_at, *(content[:AT] for _, content, _ in held)]
    if times != sorted(times):
        pairs = zip(times, times[1:], held, strict=False)
        log.goes_back += [entry for before, at, (entry, _, _) in pairs if at < before]
    log.last_at = times[-1]


# An entry has one form alone, so that its members are looked at in its text, where reading a million takes longer, and
# in many texts at once. Within a text of JSON's a quotation mark stands behind a backslash: only a member's name looks
# like one.


def _are_whole(
    held: Sequence[tuple[int, str, bytes]], seals: Sequence[Sequence[Sealed]], made: Sequence[bytes], knows: Knows
) -> bool:
    """Whether nothing is wrong with any of these entries, as `_entry_faults` would tell of each."""
    numbers, contents, leaves = zip(*held, strict=True)
    if made != [*leaves]:
        return False
    form = FORM if contents[0].startswith(_begin(numbers[0], FORM), AT) else EARLIER_FORMS[-1]
    stated = [_rows_stated(of_entry) for of_entry in seals]
    rows_at = map(str.find, contents, repeat(ROWS))
    whose = {content[content.rfind(WHO) :] for content in contents}
    return (
        all(map(str.startswith, contents, [_begin(entry, form) for entry in numbers], repeat(AT)))
        and all(map(str.startswith, contents, stated, rows_at))
        and all(who.startswith(WHO) and knows(who[len(WHO) : -2]) for who in whose)
    )


def _entry_faults(
    entry: int, content: str, seals: Sequence[Sealed], knows: Knows, *, is_leaf: bool
) -> Iterator[LedgerFault]:
    begins = any(content.startswith(_begin(entry, form), AT) for form in (FORM, *EARLIER_FORMS))
    rows_at, who_at = content.find(ROWS), content.rfind(WHO)
    if not (is_leaf and begins and rows_at >= 0 and who_at >= 0):
        yield LedgerFault(told("Entry {entry} was altered: it is not what its leaf was made of.", entry=entry), entry)
        return
    if not content.startswith(_rows_stated(seals), rows_at):
        for table in _differing(content, seals):
            yield LedgerFault(
                told(
                    "What entry {entry} seals of {table} was altered: ledger_rows does not hold the digests that it "
                    "was made of.",
                    entry=entry,
                    table=table,
                ),
                entry,
                table,
            )
    if not knows(content[who_at + len(WHO) : -2]):
        yield LedgerFault(
            told("Entry {entry} names somebody who is not in ledger_authors.", entry=entry), entry, "ledger_authors"
        )


def _begin(entry: int, form: int) -> str:
    return f',"entry":{entry},"form":{form},"kind":"'


def _rows_stated(seals: Sequence[Sealed]) -> str:
    """Return what an entry of these seals says of its rows, as far as to its next member; what none says, if one lacks.

    Most entries have one seal.
    """
    if len(seals) == 1 and seals[0][3] == 0:
        return f',"rows":{{{table_member(seals[0][4], 1, seals[0][2])}}},"says":{{'
    if [seal[3] for seal in seals] != list(range(len(seals))):
        return "nothing"
    return f',{rows_member(_digests(seals))},"says":{{'


def _digests(seals: Sequence[Sealed]) -> dict[str, list[bytes]]:
    found: dict[str, list[bytes]] = {}
    for _, _, digest, _, table, _ in seals:
        found.setdefault(table, []).append(digest)
    return found


def _differing(content: str, seals: Sequence[Sealed]) -> list[str]:
    """Return the tables of which seals and entry differ; where it is their order alone, all of them."""
    try:
        stated = json.loads(content)["rows"]
    except (ValueError, KeyError):  # somebody made it anew so that it cannot be read
        stated = None
    stated, made = stated if isinstance(stated, dict) else {}, json.loads(f"{{{rows_member(_digests(seals))}}}")["rows"]
    return [table for table in sorted(stated.keys() | made.keys()) if stated.get(table) != made.get(table)] or [*made]


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
            says = told(
                "Node {number} of level {level} of the tree is of entries that are missing.",
                number=position,
                level=level,
            )
            yield LedgerFault(says, size, "ledger_nodes", f"[{level},{position}]")
        elif held.get(position) != made[position]:
            first, last = position << level, (position + 1 << level) - 1
            says = told(
                "Node {number} of level {level} of the tree is not made of entries {first} to {last}: one of them was "
                "altered, or it was.",
                number=position,
                level=level,
                first=first,
                last=last,
            )
            yield LedgerFault(says, first, "ledger_nodes", f"[{level},{position}]")


def _check_outside(conn: sa.Connection, log: Log, last: int) -> None:
    """Look for what stands before the first entry or after the last one."""
    for (entry,) in run(conn, "SELECT entry FROM ledger WHERE entry < 0 ORDER BY entry"):
        log.faults.append(
            LedgerFault(told("Entry {entry} was put in: the first is entry 0.", entry=entry), entry, "ledger")
        )
    for level, position in run(conn, "SELECT level, position FROM ledger_nodes WHERE level < 1"):
        says = told(
            "Node {number} of level {level} was put in: the tree has none on that level.", number=position, level=level
        )
        log.faults.append(LedgerFault(says, None, "ledger_nodes", f"[{level},{position}]"))
    for bound, at in (("<", 0), (">", last)):
        log.faults.extend(map(_of_none, run(conn, f"{SEALS} {bound} ? ORDER BY entry, ordinal", (at,))))


def _of_none(seal: Sealed) -> LedgerFault:
    entry, _, _, _, table, key = seal
    says = told(
        "ledger_rows seals row {row} of {table} in entry {entry}, which is missing.",
        row=key,
        table=table,
        entry=entry,
    )
    return LedgerFault(says, entry, table, key)
