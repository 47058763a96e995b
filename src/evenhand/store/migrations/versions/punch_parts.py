"""Punches as columns beside their rows, and a count of how often an item of a round was moved."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make the table; the store fills it from the punches' rows when it opens."""
    op.create_table(
        "punch_parts",
        sa.Column("part", INTEGER, primary_key=True, autoincrement=True),
        sa.Column("take", INTEGER, sa.ForeignKey("takes.take"), nullable=False),
        *(sa.Column(name, INTEGER, nullable=False) for name in ("first_at", "last_at", "height")),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sqlite_strict=True,
    )
    op.create_index("punch_parts_by_take", "punch_parts", ["take", "height"])
    op.add_column("round_items", sa.Column("moved", INTEGER, nullable=False, server_default="0"))


def downgrade() -> None:
    """Refuse: where an item was moved is never thrown away."""
    raise NotImplementedError("where an item was moved is never thrown away")
