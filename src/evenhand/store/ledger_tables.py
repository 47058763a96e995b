"""The ledger's own tables, and which tables of the store its entries speak of, row by row or take by take."""

from __future__ import annotations

import sqlalchemy as sa

from evenhand.store.tables import INTEGER, KEYED, STORED, metadata

__all__ = ["LEDGER", "OF_TAKES", "OWN", "columns_of", "row_tables"]

# Each entry once, from 0: its canonical content, and the hash of that as a leaf of the tree. Nodes above the leaves
# stand beside it. `ledger_rows` has what an entry seals, under a salt, and `ledger_authors` each name once, by which
# entries say who: salts and names can be erased, and nothing else is ever changed.
LEDGER: dict[str, sa.Table] = {
    "ledger": sa.Table(
        "ledger",
        metadata,
        sa.Column("entry", INTEGER, primary_key=True, autoincrement=False),
        sa.Column("content", sa.Text, nullable=False),
        sa.Column("leaf", sa.LargeBinary, nullable=False),
        sqlite_strict=True,
    ),
    "ledger_nodes": sa.Table(
        "ledger_nodes",
        metadata,
        sa.Column("level", INTEGER, primary_key=True, autoincrement=False),
        sa.Column("position", INTEGER, primary_key=True, autoincrement=False),
        sa.Column("hash", sa.LargeBinary, nullable=False),
        sqlite_strict=True,
        sqlite_with_rowid=False,
    ),
    "ledger_rows": sa.Table(
        "ledger_rows",
        metadata,
        sa.Column("entry", INTEGER, primary_key=True, autoincrement=False),
        sa.Column("ordinal", INTEGER, primary_key=True, autoincrement=False),
        sa.Column("table", sa.Text, nullable=False),
        sa.Column("row_key", sa.Text, nullable=False),
        sa.Column("salt", sa.LargeBinary),
        sa.Column("digest", sa.LargeBinary, nullable=False),
        sqlite_strict=True,
        sqlite_with_rowid=False,
    ),
    "ledger_authors": sa.Table(
        "ledger_authors",
        metadata,
        sa.Column("author", INTEGER, primary_key=True),
        sa.Column("name", sa.Text, unique=True),
        sa.Column("salt", sa.LargeBinary),
        sa.Column("digest", sa.Text, nullable=False),
        sqlite_strict=True,
    ),
}

# Rows that takes bring by the thousand are sealed together, take by take, in this order. Running numbers that a fold
# gives anew are left out.
OF_TAKES: dict[str, tuple[str, ...]] = {
    **{name: table.key for name, table in KEYED.items()},
    "changes": ("change",),
    "punch_details": ("punch",),
    "punches": ("line",),
    "refused_rows": ("refusal",),
    "take_spans": ("reader",),
}
RUNNING = {"changes": "change", "refused_rows": "refusal"}
# Parts hold the punches once more, as columns, and are held against the rows; the others are empty between writings, or
# say no more than that the disk is still to be cleared.
OWN = ("punch_parts", "folding", "erasing", "clearing")


def row_tables() -> list[str]:
    """Return the tables of which every row is sealed by itself: all but those that takes bring, and OWN."""
    return [name for name in STORED if name not in OF_TAKES and name not in OWN]


def columns_of(table: str) -> list[str]:
    """Return the columns of a table of OF_TAKES that are sealed: all but the take, and a running number."""
    return [column.name for column in STORED[table].columns if column.name not in ("take", RUNNING.get(table))]
