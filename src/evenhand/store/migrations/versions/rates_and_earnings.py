"""What people are paid by, and what they earned beside the hours."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make both tables; like the roster they may change with a later file, and what they said before is kept."""
    _keyed(
        "rates",
        _text("person", key=True),
        _text("valid_from", key=True),
        _text("valid_to"),
        _text("reader", key=True),
        _text("plan"),
        _text("amount", needed=True),
        *(_text(name) for name in ("salary_for", "covers_hours", "floor")),
    )
    _keyed(
        "earnings",
        _text("person", key=True),
        _text("earned_from", key=True),
        _text("earned_to", needed=True),
        _text("kind", key=True),
        _text("amount"),
        sa.Column("units", INTEGER),
        _text("label", key=True),
    )


def downgrade() -> None:
    """Refuse: rates that decided somebody's pay are never thrown away."""
    raise NotImplementedError("rates that decided somebody's pay are never thrown away")


def _text(name: str, *, needed: bool = False, key: bool = False) -> sa.Column[Any]:
    return sa.Column(name, sa.Text(), nullable=not (needed or key), primary_key=key)


def _keyed(name: str, *columns: sa.Column[Any]) -> None:
    take = sa.Column("take", INTEGER, sa.ForeignKey("takes.take"), nullable=False)
    op.create_table(name, *columns, take, sqlite_strict=True, sqlite_with_rowid=False)
