"""A table for who played the round to practise on, and which parts went well."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0021"
down_revision = "0020"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
ERASING = "EXISTS (SELECT 1 FROM erasing)"


def upgrade() -> None:
    """Make the table, whose rows are never changed, and erased only where the law demands it."""
    op.create_table(
        "practices",
        sa.Column("practice", INTEGER, primary_key=True, autoincrement=True),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("person", "code", "day")),
        sa.Column("edition", INTEGER, nullable=False),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("well", "not_well", "way")),
        sa.Column("takes_back", INTEGER, nullable=True),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("made_at", INTEGER, nullable=False),
        sqlite_strict=True,
    )
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER practices_{verb.lower()} BEFORE {verb} ON practices WHEN NOT {ERASING} "
                "BEGIN SELECT RAISE(ABORT, 'rows of practices are never changed'); END"
            )
        return
    op.execute(
        "CREATE FUNCTION practices_kept() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"IF TG_OP = 'DELETE' AND {ERASING} THEN RETURN OLD; END IF; "
        f"IF TG_OP = 'UPDATE' AND {ERASING} THEN RETURN NEW; END IF; "
        "RAISE EXCEPTION 'rows of practices are never changed'; END $$"
    )
    op.execute(
        "CREATE TRIGGER practices_rows BEFORE UPDATE OR DELETE ON practices "
        "FOR EACH ROW EXECUTE FUNCTION practices_kept()"
    )
    op.execute(
        "CREATE TRIGGER practices_whole BEFORE TRUNCATE ON practices "
        "FOR EACH STATEMENT EXECUTE FUNCTION practices_kept()"
    )


def downgrade() -> None:
    """Refuse: what somebody practised is never thrown away."""
    raise NotImplementedError("what somebody practised is never thrown away")
