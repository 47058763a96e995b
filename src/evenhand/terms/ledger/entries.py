"""What an entry of the ledger says: what was done when and by whom, and the digests of the rows that it wrote.

No entry holds anything personal. Who did it, and every row, stand as the SHA-256 of a random salt and of what it is;
once salt and value are erased nobody can tell from the entry what they were, and the entry stays what it is.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from typing import Any, NamedTuple

from evenhand.terms.ledger.canonical import Plain, Stored, canonical, digest, row_text, text_of

__all__ = [
    "BEGINNING",
    "EARLIER_FORMS",
    "FORM",
    "UPGRADE",
    "Seal",
    "entry_text",
    "every_kind",
    "kind_of",
    "openly",
    "rows_member",
    "seal",
    "sealed_digests",
    "table_member",
    "who_digest",
]

FORM, EARLIER_FORMS = 2, (1,)
"""The form of entries, and those of before, which stay what they are.

Form 1 stated the digests of files openly, by which somebody could try whether a file is the one that he guesses.
"""
BEGINNING, UPGRADE = "beginning", "upgrade"
"""The kinds of the entries that state what was there when the ledger began, and what another version changed."""

EPOCH = datetime(1970, 1, 1, tzinfo=UTC).replace(tzinfo=None)  # without its zone, which would be written as +00:00
KINDS = {
    "adjustments": "adjustment",
    "corrections": "correction",
    "handoffs": "hand-off",
    "outcomes": "outcome",
    "premium_decisions": "premium",
    "rejected_attributions": "rejection",
    "round_items": "round moved",
    "rounds": "round",
    "settings_texts": "settings",
    "settled": "settlement",
    "takes": "take",
}
TAKE_DECISIONS = {"back": "take back", "again": "take read again", "rebuild": "store made anew"}

# What is stated openly of a row that is added, by table: nothing that tells of a person. That is no digest of a file
# either: whoever guesses what a roster of one person says could try it. The row that has it is sealed under a salt.
OPENLY = {
    "adjustments": ("adjustment", "handoff", "first_day", "last_day", "way"),
    "handoffs": ("handoff", "first_day", "last_day", "replaces"),
    "take_decisions": ("decision", "action", "take"),
    "takes": ("take", "table"),
}


def every_kind(tables: Iterable[str]) -> list[str]:
    """Return every kind of entry that a store of these tables may have."""
    of_rows = {kind_of(table, {}) for table in tables if table != "take_decisions"}
    return sorted(of_rows | set(TAKE_DECISIONS.values()) | {BEGINNING, UPGRADE})


class Seal(NamedTuple):
    """What an entry states of a row, or of all rows of a table that belong to a take: its digest under a salt."""

    table: str
    key: str
    salt: bytes
    digest: bytes


def kind_of(table: str, row: Mapping[str, Stored]) -> str:
    """Return what is done by adding, or changing, this row first of all."""
    if table == "take_decisions":
        return TAKE_DECISIONS[str(row["action"])]
    return KINDS.get(table, table.replace("_", " "))


def openly(table: str, row: Mapping[str, Stored]) -> dict[str, Plain]:
    """Return what an entry says openly of a row that was added; nothing where that is nobody's business."""
    said: dict[str, Any] = {name: row[name] for name in OPENLY.get(table, ()) if row[name] is not None}
    return said


def sealed_digests(seals: Iterable[Seal]) -> dict[str, list[bytes]]:
    """Return the digests of seals by table."""
    of_tables: dict[str, list[bytes]] = {}
    for one in seals:
        of_tables.setdefault(one.table, []).append(one.digest)
    return of_tables


def rows_member(digests: Mapping[str, Sequence[bytes]]) -> str:
    """Return the text of what an entry says of rows, from the digests of its seals by table; it has one form alone."""
    tables = (table_member(table, len(of), b"".join(of)) for table, of in sorted(digests.items()))
    return f'"rows":{{{",".join(tables)}}}'


def table_member(table: str, count: int, digests: bytes) -> str:
    """Return the text of what an entry says of a table's rows, from the digests of their seals one behind another."""
    return f'"{table}":{{"count":{count},"sha256":"{hashlib.sha256(digests).hexdigest()}"}}'


def who_digest(salt: bytes, name: str) -> str:
    """Return what stands in an entry for somebody's name."""
    return digest(salt + canonical(name))


def entry_text(
    entry: int,
    *,
    at: int,
    kind: str,
    who: Iterable[str],
    seals: Iterable[Seal],
    says: Mapping[str, Plain],
) -> str:
    """Return an entry's content, canonical JSON. `at` is in seconds since 1970-01-01T00:00:00Z; `who` are digests.

    Its members stand here in the order that RFC 8785 asks for; digests hold nothing that is escaped.
    """
    moment = (EPOCH + timedelta(seconds=at)).isoformat()
    said = canonical(says).decode() if says else "{}"
    named = ",".join([f'"{one}"' for one in sorted(who)])
    return (
        f'{{"at":"{moment}Z","entry":{entry},"form":{FORM},"kind":{text_of(kind)},'
        f'{rows_member(sealed_digests(seals))},"says":{said},"who":[{named}]}}'
    )


def seal(table: str, key: str, row: Mapping[str, Stored] | None, salt: bytes) -> Seal:
    """Return the seal of a row, or of its being there no longer where it is None."""
    return Seal(table, key, salt, hashlib.sha256(salt + row_text(table, key, row)).digest())
