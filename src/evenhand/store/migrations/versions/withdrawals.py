"""Corrections and settled findings that take an earlier one back, and what was known when they were made."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Add the columns; what was decided before takes nothing back, and whose number it was then is not known."""
    op.add_column("corrections", sa.Column("withdraws", INTEGER, nullable=True))
    op.add_column("corrections", sa.Column("holder", sa.Text(), nullable=True))
    op.add_column("settled", sa.Column("says", sa.Text(), nullable=True))
    op.add_column("settled", sa.Column("is_withdrawn", INTEGER, nullable=False, server_default="0"))


def downgrade() -> None:
    """Refuse: what somebody decided is never thrown away."""
    raise NotImplementedError("what somebody decided is never thrown away")
