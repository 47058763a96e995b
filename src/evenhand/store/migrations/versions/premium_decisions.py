"""A table for what somebody said of hours of pay owed beside the time worked."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
TABLE = "premium_decisions"


def upgrade() -> None:
    """Make the table, whose rows are never changed."""
    op.create_table(
        TABLE,
        sa.Column("decision", INTEGER, primary_key=True, autoincrement=True),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("person", "workday", "kind", "action")),
        sa.Column("hours", sa.Text(), nullable=True),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("author", "reason")),
        sa.Column("made_at", INTEGER, nullable=False),
        sqlite_strict=True,
    )
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {TABLE}_{verb.lower()} BEFORE {verb} ON {TABLE} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {TABLE} are never changed'); END"
            )
        return
    op.execute(
        f"CREATE FUNCTION {TABLE}_kept() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION 'rows of {TABLE} are never changed'; END $$"
    )
    op.execute(
        f"CREATE TRIGGER {TABLE}_rows BEFORE UPDATE OR DELETE ON {TABLE} FOR EACH ROW EXECUTE FUNCTION {TABLE}_kept()"
    )
    op.execute(
        f"CREATE TRIGGER {TABLE}_whole BEFORE TRUNCATE ON {TABLE} FOR EACH STATEMENT EXECUTE FUNCTION {TABLE}_kept()"
    )


def downgrade() -> None:
    """Refuse: what somebody decided is never thrown away."""
    raise NotImplementedError("what somebody decided is never thrown away")
