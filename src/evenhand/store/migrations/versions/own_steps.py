"""The workplace's own steps at its kinds of reader."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

from evenhand.store.migrations.guards import keep_rows

revision = "0022"
down_revision = "0021"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
TABLE = "own_steps"


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        TABLE,
        sa.Column("version", INTEGER, primary_key=True, autoincrement=True),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("kind", "text", "digest", "author", "reason")),
        sa.Column("made_at", INTEGER, nullable=False),
        sqlite_strict=True,
    )
    keep_rows(TABLE)


def downgrade() -> None:
    """Refuse: what the workplace wrote is never thrown away."""
    raise NotImplementedError("what the workplace wrote is never thrown away")
