"""What each file told payroll, which file it replaces and why, and adjustments of periods that were handed off."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
NEVER_CHANGED = ("handoff_lines", "adjustments", "adjustment_lines")


def upgrade() -> None:
    """Widen the record of files and make the tables; of files of before nobody knows line by line what they told."""
    op.add_column("handoffs", sa.Column("replaces", INTEGER, nullable=True))
    for name, default in (("reason", ""), ("files", "{}"), ("carries", "[]"), ("money", "[]")):
        op.add_column("handoffs", sa.Column(name, sa.Text(), nullable=False, server_default=default))
    op.add_column("handoffs", sa.Column("is_detailed", INTEGER, nullable=False, server_default="0"))
    op.create_table(
        "handoff_lines",
        sa.Column("handoff", INTEGER, sa.ForeignKey("handoffs.handoff"), primary_key=True, autoincrement=False),
        _content(),
        sqlite_strict=True,
    )
    op.create_table(
        "adjustments",
        sa.Column("adjustment", INTEGER, primary_key=True, autoincrement=True),
        sa.Column("handoff", INTEGER, nullable=False),
        *(_text(name) for name in ("first_day", "last_day", "way", "author", "reason")),
        sa.Column("made_at", INTEGER, nullable=False),
        sqlite_strict=True,
    )
    op.create_table(
        "adjustment_lines",
        sa.Column(
            "adjustment", INTEGER, sa.ForeignKey("adjustments.adjustment"), primary_key=True, autoincrement=False
        ),
        _content(),
        sqlite_strict=True,
    )
    for table in NEVER_CHANGED:
        _never_change(table)


def downgrade() -> None:
    """Refuse: what payroll was told is never thrown away."""
    raise NotImplementedError("what payroll was told is never thrown away")


def _text(name: str) -> sa.Column[Any]:
    return sa.Column(name, sa.Text(), nullable=False)


def _content() -> sa.Column[Any]:
    return sa.Column("content", sa.LargeBinary(), nullable=False)


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
