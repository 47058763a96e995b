"""The secret of a policy version's sheets, who stood by when somebody signed, and which hold a row lifts."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0023"
down_revision = "0022"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Add the columns, which are empty where there are rows: none of them was said, and no row is sealed anew."""
    op.add_column("consent_policies", sa.Column("secret", sa.Text(), nullable=True))
    op.add_column("consent_decisions", sa.Column("stood_by", sa.Text(), nullable=True))
    op.add_column("holds", sa.Column("lifts", INTEGER, nullable=True))


def downgrade() -> None:
    """Refuse: what somebody decided is never thrown away."""
    raise NotImplementedError("what somebody decided is never thrown away")
