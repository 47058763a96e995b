"""The workplace's own steps at its kinds of reader."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0022"
down_revision = "0021"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
TABLE = "own_steps"
ERASING = "EXISTS (SELECT 1 FROM erasing)"


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        TABLE,
        sa.Column("version", INTEGER, primary_key=True, autoincrement=True),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("kind", "text", "digest", "author", "reason")),
        sa.Column("made_at", INTEGER, nullable=False),
        sqlite_strict=True,
    )
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {TABLE}_{verb.lower()} BEFORE {verb} ON {TABLE} WHEN NOT {ERASING} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {TABLE} are never changed'); END"
            )
        return
    op.execute(
        f"CREATE FUNCTION {TABLE}_kept() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN IF TG_OP = 'DELETE' AND {ERASING} THEN RETURN OLD; END IF; "
        f"IF TG_OP = 'UPDATE' AND {ERASING} THEN RETURN NEW; END IF; "
        f"RAISE EXCEPTION 'rows of {TABLE} are never changed'; END $$"
    )
    op.execute(
        f"CREATE TRIGGER {TABLE}_rows BEFORE UPDATE OR DELETE ON {TABLE} FOR EACH ROW EXECUTE FUNCTION {TABLE}_kept()"
    )
    op.execute(
        f"CREATE TRIGGER {TABLE}_whole BEFORE TRUNCATE ON {TABLE} FOR EACH STATEMENT EXECUTE FUNCTION {TABLE}_kept()"
    )


def downgrade() -> None:
    """Refuse: what the workplace wrote is never thrown away."""
    raise NotImplementedError("what the workplace wrote is never thrown away")
