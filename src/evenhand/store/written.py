"""The one door for single rows: what people decide and what happens is added here, and only here changed or erased.

Whatever is written is noted on the connection, so that the transaction ends with an entry of the ledger that seals it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

import sqlalchemy as sa

from evenhand.store.tables import STORED
from evenhand.terms.lines import as_line

__all__ = [
    "Key",
    "Whole",
    "Written",
    "add_row",
    "add_rows",
    "change_row",
    "entry_says",
    "erase_row",
    "note_rows",
    "note_takes",
    "note_takes_of",
    "written_on",
]

Key = int | str | tuple[int | str, ...]
"""What identifies a row: the value of its key, or the values in the key's order."""
Keys = tuple[int | str, ...]
Whole = tuple[int, str]
"""How many the rows of a take in one table are, and the digest over them."""


@dataclass
class Written:
    """What a transaction has written: rows by table and key, each with whether it was added, and rows of takes.

    The rows of a take stand with their digest where the writer had them at hand, else they are read. `kind` and
    `authors` are what the job says of itself, where the rows do not.
    """

    rows: dict[str, dict[Keys, bool]] = field(default_factory=dict)
    takes: dict[str, dict[int, Whole | None]] = field(default_factory=dict)
    kind: str = ""
    authors: set[str] = field(default_factory=set)


def written_on(conn: sa.Connection) -> Written | None:
    """Return what the transaction has written so far; None where it is one that is not kept."""
    written: Written | None = conn.get_execution_options().get("written")
    return written


OWN_WORDS = ("author", "reason", "title")
"""What people write in their own words, and notes, statements and terminals show."""


def add_row(conn: sa.Connection, table: str, values: Mapping[str, Any]) -> int:
    """Add a row to a table with a running number, and return its number; raises Refusal as `as_line` does."""
    key = conn.execute(STORED[table].insert().values(_clean(values))).inserted_primary_key
    assert key is not None
    note_rows(conn, table, [tuple(key)], are_new=True)
    return int(key[0])


def add_rows(conn: sa.Connection, table: str, rows: Iterable[Mapping[str, Any]]) -> None:
    """Add rows, each with its key."""
    if listed := [_clean(row) for row in rows]:
        conn.execute(STORED[table].insert(), listed)
        names = STORED[table].primary_key.columns.keys()
        note_rows(conn, table, [tuple(row[name] for name in names) for row in listed], are_new=True)


def _clean(values: Mapping[str, Any]) -> dict[str, Any]:
    """Return the values with people's own words as one line each; raises Refusal where that cannot be."""
    own = {name: as_line(values[name]) for name in OWN_WORDS if isinstance(values.get(name), str)}
    return {**values, **own}


def change_row(conn: sa.Connection, table: str, key: Key, values: Mapping[str, Any]) -> None:
    """Change the row of this key; raises LookupError where there is none."""
    changed = conn.execute(STORED[table].update().where(_is_key(table, key)).values(_clean(values)))
    _note_one(conn, table, key, changed.rowcount)


def erase_row(conn: sa.Connection, table: str, key: Key) -> None:
    """Take the row of this key out for good; raises LookupError where there is none."""
    _note_one(conn, table, key, conn.execute(STORED[table].delete().where(_is_key(table, key))).rowcount)


def note_rows(conn: sa.Connection, table: str, keys: Iterable[Keys], *, are_new: bool = False) -> None:
    """Note that the rows of these keys were added, or else changed or taken out."""
    if (written := written_on(conn)) is not None:
        for key in keys:
            noted = written.rows.setdefault(table, {})
            noted[key] = noted.get(key, False) or are_new


def note_takes(
    conn: sa.Connection, table: str, takes: Collection[int], wholes: Mapping[int, Whole] | None = None
) -> None:
    """Note that rows of `table` that belong to these takes were added, changed or taken out.

    `wholes` are of all that each holds now, where the writer has it at hand, see `sealed.whole_of`.
    """
    if (written := written_on(conn)) is not None:
        for take in takes:
            written.takes.setdefault(table, {})[take] = (wholes or {}).get(take)


def note_takes_of(conn: sa.Connection, table: str, *where: sa.ColumnElement[bool]) -> None:
    """Note that the rows of `table` that are there now are to be taken out, or were put back, see `note_takes`."""
    if written_on(conn) is not None:
        take = STORED[table].c["take"]
        note_takes(conn, table, conn.scalars(sa.select(take).where(*where).distinct()).all())


def entry_says(conn: sa.Connection, *, kind: str = "", author: str = "") -> None:
    """Say of what the transaction does what it is, or who does it, where the rows that it writes do not."""
    if (written := written_on(conn)) is not None:
        written.kind = kind or written.kind
        if author:
            written.authors.add(as_line(author))


def _note_one(conn: sa.Connection, table: str, key: Key, found: int) -> None:
    if found != 1:
        raise LookupError(f"{table} has no row {key}")
    note_rows(conn, table, [key if isinstance(key, tuple) else (key,)])


def _is_key(table: str, key: Key) -> sa.ColumnElement[bool]:
    columns = STORED[table].primary_key.columns
    values = key if isinstance(key, tuple) else (key,)
    return sa.and_(*(column == value for column, value in zip(columns, values, strict=True)))
