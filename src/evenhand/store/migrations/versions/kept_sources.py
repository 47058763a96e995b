"""What each take was read by, its refused rows, and what is decided about takes; and how they are folded anew.

Takes of before have no source. What they brought is set down as it is now, so that later takes can be folded onto it.
"""

from __future__ import annotations

import json
from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
KEYED = ("people", "readers", "enrolments", "schedules", "consent", "rates", "earnings")
FOLDED = ("punches", "changes")
PRESENTED = ("reader", "number", "at", "direction", "outcome", "ordinal")


def upgrade() -> None:
    """Make the columns and tables, and fill them from what is there."""
    _widen()
    _refused_rows()
    _decisions()
    _presentations()
    _spans()
    _what_came_before()
    op.create_table("folding", _running("running"), sqlite_strict=True)
    for table in FOLDED:
        _may_be_folded_anew(table)


def downgrade() -> None:
    """Refuse: what somebody decided is never thrown away."""
    raise NotImplementedError("what somebody decided is never thrown away")


def _text(name: str, *, needed: bool = True) -> sa.Column[Any]:
    return sa.Column(name, sa.Text(), nullable=not needed)


def _whole(name: str, *, needed: bool = True) -> sa.Column[Any]:
    return sa.Column(name, INTEGER, nullable=not needed)


def _running(name: str) -> sa.Column[Any]:
    return sa.Column(name, INTEGER, primary_key=True, autoincrement=True)


def _take(*, needed: bool = True, key: bool = False) -> sa.Column[Any]:
    return sa.Column("take", INTEGER, sa.ForeignKey("takes.take"), nullable=not needed, primary_key=key)


def _widen() -> None:
    for name in ("layout_text", "zones", "clocks", "fault"):
        op.add_column("takes", _text(name, needed=False))
    for name in ("to_minute", "is_back"):
        op.add_column("takes", sa.Column(name, INTEGER, nullable=False, server_default="0"))
    whole = INTEGER.compile(op.get_bind().dialect)
    op.execute(f"ALTER TABLE people ADD COLUMN gone {whole} REFERENCES takes (take)")


def _refused_rows() -> None:
    op.create_table(
        "refused_rows",
        _running("refusal"),
        _take(),
        _whole("line"),
        _text("column"),
        _text("seen", needed=False),
        _text("reason"),
        _text("text", needed=False),
        sqlite_strict=True,
    )
    op.create_index("refused_rows_by_take", "refused_rows", ["take"])


def _decisions() -> None:
    op.create_table(
        "take_decisions",
        _running("decision"),
        _text("action"),
        _take(needed=False),
        *(_text(name, needed=False) for name in ("layout", "zones")),
        *(_text(name) for name in ("author", "reason")),
        _whole("made_at"),
        sqlite_strict=True,
    )
    _never_change("take_decisions")


def _presentations() -> None:
    op.create_table(
        "corrected_punches",
        sa.Column("correction", INTEGER, sa.ForeignKey("corrections.correction"), primary_key=True),
        *(_text(name) for name in ("reader", "number")),
        _whole("at"),
        *(_text(name) for name in ("direction", "outcome")),
        _whole("ordinal"),
        sqlite_strict=True,
    )
    op.execute(
        f"INSERT INTO corrected_punches (correction, {', '.join(PRESENTED)}) "
        f"SELECT correction, {', '.join(f'punches.{name}' for name in PRESENTED)} FROM corrections JOIN punches "
        "ON punches.take = corrections.punch >> 32 AND punches.line = corrections.punch & 4294967295 "
        "WHERE corrections.punch >= 0"
    )
    _never_change("corrected_punches")


def _spans() -> None:
    op.create_table(
        "take_spans",
        _take(key=True),
        sa.Column("reader", sa.Text(), primary_key=True),
        *(_whole(name) for name in ("first_at", "last_at")),
        sqlite_strict=True,
        sqlite_with_rowid=False,
    )
    op.execute(
        "INSERT INTO take_spans (take, reader, first_at, last_at) "
        "SELECT take, reader, min(at), max(at) FROM punches GROUP BY take, reader"
    )


def _what_came_before() -> None:
    earlier = op.create_table("earlier_rows", _running("running"), _text("table"), _text("content"), sqlite_strict=True)
    last = op.get_bind().scalar(sa.text("SELECT coalesce(max(take), 0) FROM takes"))
    op.bulk_insert(earlier, [{"table": "takes", "content": json.dumps({"take": last})}])
    for table in KEYED:
        rows = op.get_bind().execute(sa.text(f"SELECT * FROM {table}")).mappings()
        if found := [{"table": table, "content": json.dumps(dict(row))} for row in rows]:
            op.bulk_insert(earlier, found)
    _never_change("earlier_rows")


def _may_be_folded_anew(table: str) -> None:
    """Let rows be deleted while, and only while, the same transaction has a row in `folding`."""
    if op.get_bind().dialect.name == "sqlite":
        op.execute(f"DROP TRIGGER {table}_delete")
        op.execute(
            f"CREATE TRIGGER {table}_delete BEFORE DELETE ON {table} WHEN NOT EXISTS (SELECT 1 FROM folding) "
            f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are never changed'); END"
        )
        return
    op.execute(
        f"CREATE OR REPLACE FUNCTION {table}_kept() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        "IF TG_OP = 'DELETE' AND EXISTS (SELECT 1 FROM folding) THEN RETURN OLD; END IF; "
        f"RAISE EXCEPTION 'rows of {table} are never changed'; END $$"
    )


def _never_change(table: str) -> None:
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_{verb.lower()} BEFORE {verb} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are never changed'); END"
            )
        return
    op.execute(
        f"CREATE FUNCTION {table}_kept() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION 'rows of {table} are never changed'; END $$"
    )
    op.execute(
        f"CREATE TRIGGER {table}_rows BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW EXECUTE FUNCTION {table}_kept()"
    )
    op.execute(
        f"CREATE TRIGGER {table}_whole BEFORE TRUNCATE ON {table} FOR EACH STATEMENT EXECUTE FUNCTION {table}_kept()"
    )
