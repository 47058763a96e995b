"""Legal holds, what was erased, and a mark for what is still to be cleared from the disk after an erasure."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0018"
down_revision = "0017"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


ERASING = "EXISTS (SELECT 1 FROM erasing)"


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
        _never_change(table)


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


def _never_change(table: str) -> None:
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_{verb.lower()} BEFORE {verb} ON {table} WHEN NOT {ERASING} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are never changed'); END"
            )
        return
    op.execute(
        f"CREATE FUNCTION {table}_kept() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN IF TG_OP = 'DELETE' AND {ERASING} THEN RETURN OLD; END IF; "
        f"IF TG_OP = 'UPDATE' AND {ERASING} THEN RETURN NEW; END IF; "
        f"RAISE EXCEPTION 'rows of {table} are never changed'; END $$"
    )
    op.execute(
        f"CREATE TRIGGER {table}_rows BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW EXECUTE FUNCTION {table}_kept()"
    )
    op.execute(
        f"CREATE TRIGGER {table}_whole BEFORE TRUNCATE ON {table} FOR EACH STATEMENT EXECUTE FUNCTION {table}_kept()"
    )
