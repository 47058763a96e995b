"""What later exports tell of a stored punch."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
REAL: sa.types.TypeEngine[Any] = sa.Double().with_variant(sa.REAL(), "sqlite")


def upgrade() -> None:
    """Make the table; of what was taken before, nothing was told twice."""
    op.create_table(
        "punch_details",
        sa.Column("punch", INTEGER, primary_key=True),
        sa.Column("take", INTEGER, primary_key=True),
        sa.Column("at", INTEGER),
        sa.Column("direction", sa.Text()),
        sa.Column("outcome", sa.Text()),
        sa.Column("score", REAL),
        sqlite_strict=True,
        sqlite_with_rowid=False,
    )
    op.add_column("takes", sa.Column("enriched", INTEGER, nullable=False, server_default="0"))


def downgrade() -> None:
    """Refuse: an earlier version would take what is told twice for two punches."""
    raise NotImplementedError("an earlier version would take what is told twice for two punches")
