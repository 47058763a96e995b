"""The store's tables, made from the declared columns, for SQLite and PostgreSQL alike."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa

from evenhand.store.kept import CHANGES, HANDOFFS, SETTLED, TAKES
from evenhand.terms.columns import Column, Kind, Table
from evenhand.terms.rounds import OUTCOMES, ROUND_ITEMS, ROUNDS
from evenhand.terms.sources import CONSENT, EARNINGS, ENROLMENTS, PEOPLE, RATES, READERS, SCHEDULES
from evenhand.terms.tables import CORRECTIONS, REJECTED_ATTRIBUTIONS

__all__ = ["APPEND_ONLY", "DECISIONS", "INTEGER", "KEYED", "PUNCH_SHIFT", "REAL", "STORED", "metadata"]

# STRICT tables know only INTEGER, REAL, TEXT and BLOB.
INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
REAL: sa.types.TypeEngine[Any] = sa.Double().with_variant(sa.REAL(), "sqlite")

SQL_TYPES: dict[Kind, sa.types.TypeEngine[Any]] = {
    "text": sa.Text(),
    "date": sa.Text(),
    "instant": INTEGER,
    "seconds": INTEGER,
    "count": INTEGER,
    "score": REAL,
    "yes_no": INTEGER,
    "money": sa.Text(),
}

KEYED: dict[str, Table] = {
    table.name: table for table in (PEOPLE, READERS, ENROLMENTS, SCHEDULES, CONSENT, RATES, EARNINGS)
}
DECISIONS = ("corrections", "rejected_attributions", "settled", "handoffs")
APPEND_ONLY = ("punches", *DECISIONS, "changes", "rounds", "outcomes")

# The number of a stored punch holds its take above these bits and its line below them.
PUNCH_SHIFT = 32

metadata = sa.MetaData()


def _columns(table: Table) -> list[sa.Column[Any]]:
    return [_column(table, column) for column in table.columns]


def _column(table: Table, column: Column) -> sa.Column[Any]:
    in_key = column.name in table.key
    return sa.Column(
        column.name,
        SQL_TYPES[column.kind],
        primary_key=in_key,
        nullable=not (column.required or in_key),
        autoincrement=in_key and len(table.key) == 1 and column.kind == "count",
    )


def _take(name: str = "take", *, nullable: bool = False) -> sa.Column[int]:
    return sa.Column(name, INTEGER, sa.ForeignKey("takes.take"), nullable=nullable)


STORED: dict[str, sa.Table] = {
    table.name: sa.Table(table.name, metadata, *_columns(table), sqlite_strict=True)
    for table in (TAKES, CORRECTIONS, REJECTED_ATTRIBUTIONS, SETTLED, HANDOFFS)
}
STORED["changes"] = sa.Table(
    "changes",
    metadata,
    *(column for column in _columns(CHANGES) if column.name != "take"),
    _take(),
    sqlite_strict=True,
)
for _table in KEYED.values():
    _gone = [_take("gone", nullable=True)] if _table is ENROLMENTS else []
    STORED[_table.name] = sa.Table(
        _table.name,
        metadata,
        *_columns(_table),
        _take(),
        *_gone,
        sqlite_strict=True,
        sqlite_with_rowid=False,
    )


def _belongs(table: Table, column: str, to: str) -> list[sa.Column[Any]]:
    columns = {made.name: made for made in _columns(table)}
    columns[column] = sa.Column(column, sa.Text(), sa.ForeignKey(to), nullable=False)
    return list(columns.values())


_MOVED = sa.Column("moved", INTEGER, nullable=False, server_default="0")  # how often
for _table, _made in (
    (ROUNDS, _columns(ROUNDS)),
    (ROUND_ITEMS, [*_belongs(ROUND_ITEMS, "round", "rounds.round"), _MOVED]),
    (OUTCOMES, _belongs(OUTCOMES, "item", "round_items.item")),
):
    STORED[_table.name] = sa.Table(_table.name, metadata, *_made, sqlite_strict=True, sqlite_with_rowid=False)

# Punches hold no foreign keys: checking two of them on every row of a bulk load costs as much as storing it.
# Their key is their identity: `ordinal` tells identical rows of one run of a reader's log apart. Nothing in
# it may be null, since nulls never equal each other; what a log does not say is ''.
STORED["punches"] = sa.Table(
    "punches",
    metadata,
    sa.Column("reader", sa.Text, primary_key=True),
    sa.Column("at", INTEGER, primary_key=True),
    sa.Column("number", sa.Text, primary_key=True),
    sa.Column("direction", sa.Text, primary_key=True),
    sa.Column("outcome", sa.Text, primary_key=True),
    sa.Column("ordinal", INTEGER, primary_key=True),
    sa.Column("score", REAL),
    sa.Column("line", INTEGER, nullable=False),
    sa.Column("take", INTEGER, nullable=False),
    sqlite_strict=True,
    sqlite_with_rowid=False,
)
STORED["punch_parts"] = sa.Table(
    "punch_parts",
    metadata,
    sa.Column("part", INTEGER, primary_key=True),
    _take(),
    sa.Column("reader", sa.Text, nullable=False),
    sa.Column("first_at", INTEGER, nullable=False),
    sa.Column("last_at", INTEGER, nullable=False),
    sa.Column("height", INTEGER, nullable=False),
    sa.Column("content", sa.LargeBinary, nullable=False),
    sa.Index("punch_parts_by_take", "take", "height"),
    sqlite_strict=True,
)
