"""Who changed a file of settings, and why, beside what it says; empty for what was found changed."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0020"
down_revision = "0019"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make the columns."""
    for name, kind in (("author", sa.Text()), ("reason", sa.Text()), ("withdraws", INTEGER)):
        op.add_column("settings_texts", sa.Column(name, kind, nullable=True))


def downgrade() -> None:
    """Refuse: who decided something is never thrown away."""
    raise NotImplementedError("who decided something is never thrown away")
