"""The store's tables, made from the declared columns, for SQLite and PostgreSQL alike."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa

from evenhand.store.kept import (
    ADJUSTMENTS,
    CHANGES,
    HANDOFFS,
    REFUSED_ROWS,
    SETTINGS_TEXTS,
    SETTLED,
    TAKE_DECISIONS,
    TAKES,
)
from evenhand.store.same_punch import DETAILS
from evenhand.terms.columns import Column, Kind, Table
from evenhand.terms.consent import CONSENT_DECISIONS, CONSENT_POLICIES
from evenhand.terms.own_steps import OWN_STEPS
from evenhand.terms.retention import ERASED_SOURCES, ERASURES, HOLDS
from evenhand.terms.rounds import OUTCOMES, ROUND_ITEMS, ROUNDS
from evenhand.terms.signing import DISPUTE_ANSWERS, DISPUTES, SIGNOFFS, STATEMENT_CODES
from evenhand.terms.sources import CONSENT, EARNINGS, ENROLMENTS, PEOPLE, RATES, READERS, SCHEDULES
from evenhand.terms.suggestions import SUGGESTION_ANSWERS, SUGGESTIONS
from evenhand.terms.tables import CORRECTIONS, PREMIUM_DECISIONS, PUNCH_SHIFT, REJECTED_ATTRIBUTIONS
from evenhand.terms.teaching import PRACTICES

__all__ = ["DECISIONS", "INTEGER", "KEYED", "PUNCH_SHIFT", "REAL", "STORED", "metadata"]

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
DECISIONS = (
    "corrections",
    "premium_decisions",
    "rejected_attributions",
    "settled",
    "handoffs",
    "adjustments",
    "take_decisions",
    "consent_policies",
    "consent_decisions",
    "signoffs",
    "disputes",
    "dispute_answers",
    "suggestions",
    "suggestion_answers",
    "practices",
    "holds",
    "erasures",
    "own_steps",
)

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


def _of_take(table: Table, *, nullable: bool = False) -> list[sa.Column[Any]]:
    return [_take(nullable=nullable) if column.name == "take" else column for column in _columns(table)]


# What a take was read by: the layout (TOML), what the settings said of zones (JSON), the digest of the clocks its
# times were placed by; `fault` says why nothing of its file can be read any more. The first two are null where the
# file was taken before sources were kept.
READ_BY = ("layout_text", "zones", "clocks", "fault")

STORED: dict[str, sa.Table] = {
    "takes": sa.Table(
        "takes",
        metadata,
        *_columns(TAKES),
        *(sa.Column(name, sa.Text) for name in READ_BY),
        sqlite_strict=True,
    )
}
STORED |= {
    table.name: sa.Table(table.name, metadata, *_columns(table), sqlite_strict=True)
    for table in (
        CORRECTIONS,
        PREMIUM_DECISIONS,
        REJECTED_ATTRIBUTIONS,
        SETTINGS_TEXTS,
        SETTLED,
        HANDOFFS,
        ADJUSTMENTS,
        CONSENT_POLICIES,
        CONSENT_DECISIONS,
        PRACTICES,
        OWN_STEPS,
        HOLDS,
        ERASURES,
        ERASED_SOURCES,
    )
}
STORED |= {
    table.name: sa.Table(table.name, metadata, *_of_take(table, nullable=may_lack), sqlite_strict=True)
    for table, may_lack in ((CHANGES, False), (REFUSED_ROWS, False), (TAKE_DECISIONS, True))
}
STORED |= {
    table.name: sa.Table(table.name, metadata, *_columns(table), sqlite_strict=True)
    for table in (STATEMENT_CODES, SIGNOFFS, DISPUTES, SUGGESTIONS)
}
for _answers, _asked in ((DISPUTE_ANSWERS, "dispute"), (SUGGESTION_ANSWERS, "suggestion")):
    STORED[_answers.name] = sa.Table(
        _answers.name,
        metadata,
        *(
            sa.Column(_asked, INTEGER, sa.ForeignKey(f"{_asked}s.{_asked}"), nullable=False)
            if one.name == _asked
            else one
            for one in _columns(_answers)
        ),
        sqlite_strict=True,
    )
sa.Index("statement_codes_by_code", STORED["statement_codes"].c.code, unique=True)
sa.Index("refused_rows_by_take", STORED["refused_rows"].c["take"])
for _table in KEYED.values():
    _gone: list[sa.Column[Any]] = [_take("gone", nullable=True)] if _table in (ENROLMENTS, PEOPLE) else []
    if _table is PEOPLE:  # the identifier of whoever was listed under a number until then
        _gone.append(sa.Column("known_as", sa.Text))
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
# Like the punches, and for the same reason, without foreign keys.
STORED["punch_details"] = sa.Table(
    "punch_details", metadata, *_columns(DETAILS), sqlite_strict=True, sqlite_with_rowid=False
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
# The presentation that a correction was made on, by which it is found again under another number.
STORED["corrected_punches"] = sa.Table(
    "corrected_punches",
    metadata,
    sa.Column("correction", INTEGER, sa.ForeignKey("corrections.correction"), primary_key=True),
    sa.Column("reader", sa.Text, nullable=False),
    sa.Column("number", sa.Text, nullable=False),
    sa.Column("at", INTEGER, nullable=False),
    sa.Column("direction", sa.Text, nullable=False),
    sa.Column("outcome", sa.Text, nullable=False),
    sa.Column("ordinal", INTEGER, nullable=False),
    sqlite_strict=True,
)
# What each file told payroll, and what each adjustment is to tell it (HANDED_OFF), as Arrow columns.
for _of in ("handoff", "adjustment"):
    STORED[f"{_of}_lines"] = sa.Table(
        f"{_of}_lines",
        metadata,
        sa.Column(_of, INTEGER, sa.ForeignKey(f"{_of}s.{_of}"), primary_key=True, autoincrement=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
        sqlite_strict=True,
    )
# The figures of time that each file printed (PRINTED), as Arrow columns; of files of before it is not kept.
STORED["handoff_figures"] = sa.Table(
    "handoff_figures",
    metadata,
    sa.Column("handoff", INTEGER, sa.ForeignKey("handoffs.handoff"), primary_key=True, autoincrement=False),
    sa.Column("content", sa.LargeBinary, nullable=False),
    sqlite_strict=True,
)
# From when to when the punches of a file reach at each reader, also those that were known already.
STORED["take_spans"] = sa.Table(
    "take_spans",
    metadata,
    sa.Column("take", INTEGER, sa.ForeignKey("takes.take"), primary_key=True),
    sa.Column("reader", sa.Text, primary_key=True),
    sa.Column("first_at", INTEGER, nullable=False),
    sa.Column("last_at", INTEGER, nullable=False),
    sqlite_strict=True,
    sqlite_with_rowid=False,
)
# The keyed rows (JSON) as they were when sources began to be kept: what takes are folded onto.
STORED["earlier_rows"] = sa.Table(
    "earlier_rows",
    metadata,
    sa.Column("running", INTEGER, primary_key=True),
    sa.Column("table", sa.Text, nullable=False),
    sa.Column("content", sa.Text, nullable=False),
    sqlite_strict=True,
)
# Holds a row while a transaction folds takes anew: only then may punches and changes be deleted.
STORED["folding"] = sa.Table("folding", metadata, sa.Column("running", INTEGER, primary_key=True), sqlite_strict=True)
# Holds a row while a transaction erases: only then may what is never changed be changed.
STORED["erasing"] = sa.Table("erasing", metadata, sa.Column("running", INTEGER, primary_key=True), sqlite_strict=True)
# Holds a row from an erasure until free pages and files of before are cleared from the disk.
STORED["clearing"] = sa.Table("clearing", metadata, sa.Column("running", INTEGER, primary_key=True), sqlite_strict=True)
