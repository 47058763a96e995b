"""The figures of time that each file printed, which the next one of the same weeks is printed against."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

from evenhand.store.migrations.guards import keep_rows

revision = "0017"
down_revision = "0016"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make the table; figures of files of before are not in it, and count as their exact time, rounded."""
    op.create_table(
        "handoff_figures",
        sa.Column("handoff", INTEGER, sa.ForeignKey("handoffs.handoff"), primary_key=True, autoincrement=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sqlite_strict=True,
    )
    keep_rows("handoff_figures")


def downgrade() -> None:
    """Refuse: what payroll was told is never thrown away."""
    raise NotImplementedError("what payroll was told is never thrown away")
