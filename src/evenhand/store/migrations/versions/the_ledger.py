"""The ledger, the texts of the settings, and that what is never changed may be erased where the law demands it."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
FOLDED = ("punches", "changes")
NEVER_CHANGED = (
    *FOLDED,
    "corrections",
    "settled",
    "handoffs",
    "rounds",
    "outcomes",
    "rejected_attributions",
    "take_decisions",
    "corrected_punches",
    "earlier_rows",
    "handoff_lines",
    "adjustments",
    "adjustment_lines",
    "premium_decisions",
    "consent_policies",
    "consent_decisions",
)
# What may be emptied of the ledger while a transaction erases, and what stays as it is beside it.
EMPTIED = {"ledger_rows": ("salt",), "ledger_authors": ("name", "salt")}
STAYS = {"ledger_rows": ("entry", "ordinal", "table", "row_key", "digest"), "ledger_authors": ("author", "digest")}


def upgrade() -> None:
    """Make the tables and their triggers; the program seals what is there in the ledger's first entry."""
    op.create_table("erasing", _running("running"), sqlite_strict=True)
    op.create_table(
        "settings_texts",
        _running("running"),
        _text("file"),
        _text("content", needed=False),
        _whole("noticed_at"),
        sqlite_strict=True,
    )
    op.create_table("ledger", _key("entry"), _text("content"), _bytes("leaf"), sqlite_strict=True)
    op.create_table(
        "ledger_nodes",
        _key("level"),
        _key("position"),
        _bytes("hash"),
        sqlite_strict=True,
        sqlite_with_rowid=False,
    )
    op.create_table(
        "ledger_rows",
        _key("entry"),
        _key("ordinal"),
        *(_text(name) for name in ("table", "row_key")),
        _bytes("salt", needed=False),
        _bytes("digest"),
        sqlite_strict=True,
        sqlite_with_rowid=False,
    )
    op.create_table(
        "ledger_authors",
        _running("author"),
        sa.Column("name", sa.Text(), nullable=True, unique=True),
        _bytes("salt", needed=False),
        _text("digest"),
        sqlite_strict=True,
    )
    for table in NEVER_CHANGED:
        _may_be_erased(table)
    _never_change("settings_texts")
    _may_be_erased("settings_texts")
    for table in ("ledger", "ledger_nodes"):
        _never_change(table)
    for table in EMPTIED:
        _never_change(table)
        _may_be_emptied(table)


def downgrade() -> None:
    """Refuse: what the ledger says is never thrown away."""
    raise NotImplementedError("what the ledger says is never thrown away")


def _text(name: str, *, needed: bool = True) -> sa.Column[Any]:
    return sa.Column(name, sa.Text(), nullable=not needed)


def _whole(name: str) -> sa.Column[Any]:
    return sa.Column(name, INTEGER, nullable=False)


def _bytes(name: str, *, needed: bool = True) -> sa.Column[Any]:
    return sa.Column(name, sa.LargeBinary(), nullable=not needed)


def _running(name: str) -> sa.Column[Any]:
    return sa.Column(name, INTEGER, primary_key=True, autoincrement=True)


def _key(name: str) -> sa.Column[Any]:
    return sa.Column(name, INTEGER, primary_key=True, autoincrement=False)


def _may_be_erased(table: str) -> None:
    """Let rows be changed or deleted while, and only while, the same transaction has a row in `erasing`."""
    flags = "EXISTS (SELECT 1 FROM erasing)"
    deleting = f"({flags} OR EXISTS (SELECT 1 FROM folding))" if table in FOLDED else flags
    if op.get_bind().dialect.name == "sqlite":
        for verb, is_allowed in (("UPDATE", flags), ("DELETE", deleting)):
            op.execute(f"DROP TRIGGER {table}_{verb.lower()}")
            op.execute(
                f"CREATE TRIGGER {table}_{verb.lower()} BEFORE {verb} ON {table} WHEN NOT {is_allowed} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are never changed'); END"
            )
        return
    op.execute(
        f"CREATE OR REPLACE FUNCTION {table}_kept() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"IF TG_OP = 'DELETE' AND {deleting} THEN RETURN OLD; END IF; "
        f"IF TG_OP = 'UPDATE' AND {flags} THEN RETURN NEW; END IF; "
        f"RAISE EXCEPTION 'rows of {table} are never changed'; END $$"
    )


def _may_be_emptied(table: str) -> None:
    """Let what is erasable in a row be emptied while the same transaction has a row in `erasing`, and nothing else."""
    is_sqlite = op.get_bind().dialect.name == "sqlite"
    conditions = [f"NEW.{name} IS NULL" for name in EMPTIED[table]]
    conditions += [f'NEW."{name}" = OLD."{name}"' for name in STAYS[table]]
    is_allowed = f"(EXISTS (SELECT 1 FROM erasing) AND {' AND '.join(conditions)})"
    if is_sqlite:
        op.execute(f"DROP TRIGGER {table}_update")
        op.execute(
            f"CREATE TRIGGER {table}_update BEFORE UPDATE ON {table} WHEN NOT {is_allowed} "
            f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are never changed'); END"
        )
        return
    op.execute(
        f"CREATE OR REPLACE FUNCTION {table}_kept() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"IF TG_OP = 'UPDATE' THEN IF {is_allowed} THEN RETURN NEW; END IF; END IF; "
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
