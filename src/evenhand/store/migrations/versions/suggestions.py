"""Tables for what supervisors say of missing punches, and for what became of it."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

from evenhand.store.migrations.guards import keep_rows

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
        keep_rows(table)


def downgrade() -> None:
    """Refuse: what somebody said of another's hours is never thrown away."""
    raise NotImplementedError("what somebody said of another's hours is never thrown away")
