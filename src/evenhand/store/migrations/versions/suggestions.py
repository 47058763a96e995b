"""Tables for what supervisors say of missing punches, and for what became of it."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0019"
down_revision = "0018"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make the tables, whose rows are never changed, and erased only where the law demands it."""
    op.create_table(
        "suggestions",
        sa.Column("suggestion", INTEGER, primary_key=True, autoincrement=True),
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("day", sa.Text(), nullable=False),
        sa.Column("action", sa.Text(), nullable=False),
        sa.Column("at", INTEGER, nullable=True),
        sa.Column("direction", sa.Text(), nullable=True),
        sa.Column("says", sa.Text(), nullable=True),
        sa.Column("supervisor", sa.Text(), nullable=True),
        sa.Column("way", sa.Text(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("made_at", INTEGER, nullable=False),
        sqlite_strict=True,
    )
    op.create_table(
        "suggestion_answers",
        sa.Column("answer", INTEGER, primary_key=True, autoincrement=True),
        sa.Column("suggestion", INTEGER, sa.ForeignKey("suggestions.suggestion"), nullable=False),
        sa.Column("outcome", sa.Text(), nullable=False),
        sa.Column("correction", INTEGER, nullable=True),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("made_at", INTEGER, nullable=False),
        sqlite_strict=True,
    )
    for table in ("suggestions", "suggestion_answers"):
        _keep(table)


def _keep(table: str) -> None:
    """Let no row be changed or deleted but while the same transaction has a row in `erasing`."""
    flags = "EXISTS (SELECT 1 FROM erasing)"
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_{verb.lower()} BEFORE {verb} ON {table} WHEN NOT {flags} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are never changed'); END"
            )
        return
    op.execute(
        f"CREATE FUNCTION {table}_kept() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"IF TG_OP = 'DELETE' AND {flags} THEN RETURN OLD; END IF; "
        f"IF TG_OP = 'UPDATE' AND {flags} THEN RETURN NEW; END IF; "
        f"RAISE EXCEPTION 'rows of {table} are never changed'; END $$"
    )
    op.execute(
        f"CREATE TRIGGER {table}_rows BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW EXECUTE FUNCTION {table}_kept()"
    )
    op.execute(
        f"CREATE TRIGGER {table}_whole BEFORE TRUNCATE ON {table} FOR EACH STATEMENT EXECUTE FUNCTION {table}_kept()"
    )


def downgrade() -> None:
    """Refuse: what somebody said of another's hours is never thrown away."""
    raise NotImplementedError("what somebody said of another's hours is never thrown away")
