"""Punches as columns, each part of one reader, so that what is read in order need not be sorted."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make the table anew; the store fills it from the punches' rows when it opens."""
    op.drop_table("punch_parts")
    op.create_table(
        "punch_parts",
        sa.Column("part", INTEGER, primary_key=True, autoincrement=True),
        sa.Column("take", INTEGER, sa.ForeignKey("takes.take"), nullable=False),
        sa.Column("reader", sa.Text(), nullable=False),
        *(sa.Column(name, INTEGER, nullable=False) for name in ("first_at", "last_at", "height")),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sqlite_strict=True,
    )
    op.create_index("punch_parts_by_take", "punch_parts", ["take", "height"])


def downgrade() -> None:
    """Refuse: an earlier version reads other parts."""
    raise NotImplementedError("an earlier version reads other parts")
