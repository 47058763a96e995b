"""A table for who played the round to practise on, and which parts went well."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

from evenhand.store.migrations.guards import keep_rows

revision = "0021"
down_revision = "0020"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make the table, whose rows are never changed, and erased only where the law demands it."""
    op.create_table(
        "practices",
        sa.Column("practice", INTEGER, primary_key=True, autoincrement=True),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("person", "code", "day")),
        sa.Column("edition", INTEGER, nullable=False),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("well", "not_well", "way")),
        sa.Column("takes_back", INTEGER, nullable=True),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("made_at", INTEGER, nullable=False),
        sqlite_strict=True,
    )
    keep_rows("practices")


def downgrade() -> None:
    """Refuse: what somebody practised is never thrown away."""
    raise NotImplementedError("what somebody practised is never thrown away")
