"""Legal holds, what was erased, and a mark for what is still to be cleared from the disk after an erasure."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

from evenhand.store.migrations.guards import keep_rows

revision = "0018"
down_revision = "0017"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make the tables."""
    _table("holds", "hold", ("person",), ("is_lifted",), ("author", "reason"), ("made_at",))
    _table(
        "erasures",
        "erasure",
        ("what", "laws", "rows"),
        ("sources", "files"),
        ("author", "reason"),
        ("made_at",),
    )
    op.create_table(
        "erased_sources",
        _running("running"),
        *(sa.Column(name, INTEGER, nullable=False) for name in ("erasure", "take")),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("sha256_before", "sha256_after")),
        sa.Column("lines", INTEGER, nullable=False),
        sqlite_strict=True,
    )
    op.create_table("clearing", _running("running"), sqlite_strict=True)
    for table in ("holds", "erasures", "erased_sources"):
        keep_rows(table)


def downgrade() -> None:
    """Refuse: what somebody decided is never thrown away."""
    raise NotImplementedError("what somebody decided is never thrown away")


def _running(name: str) -> sa.Column[Any]:
    return sa.Column(name, INTEGER, primary_key=True, autoincrement=True)


def _table(name: str, key: str, *groups: tuple[str, ...]) -> None:
    """Make a table of texts and whole numbers, by turns."""
    columns = [
        sa.Column(column, INTEGER if place % 2 else sa.Text(), nullable=False)
        for place, group in enumerate(groups)
        for column in group
    ]
    op.create_table(name, _running(key), *columns, sqlite_strict=True)
