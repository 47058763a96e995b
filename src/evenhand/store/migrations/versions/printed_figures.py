"""The figures of time that each file printed, which the next one of the same weeks is printed against."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0017"
down_revision = "0016"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make the table; figures of files of before are not in it, and count as their exact time, rounded."""
    op.create_table(
        "handoff_figures",
        sa.Column("handoff", INTEGER, sa.ForeignKey("handoffs.handoff"), primary_key=True, autoincrement=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sqlite_strict=True,
    )
    _keep("handoff_figures")


def _keep(table: str) -> None:
    """Let no row be changed or deleted but while the same transaction has a row in `erasing`."""
    flags = "EXISTS (SELECT 1 FROM erasing)"
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_{verb.lower()} BEFORE {verb} ON {table} WHEN NOT {flags} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are never changed'); END"
            )
        return
    op.execute(
        f"CREATE FUNCTION {table}_kept() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"IF TG_OP = 'DELETE' AND {flags} THEN RETURN OLD; END IF; "
        f"IF TG_OP = 'UPDATE' AND {flags} THEN RETURN NEW; END IF; "
        f"RAISE EXCEPTION 'rows of {table} are never changed'; END $$"
    )
    op.execute(
        f"CREATE TRIGGER {table}_rows BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW EXECUTE FUNCTION {table}_kept()"
    )
    op.execute(
        f"CREATE TRIGGER {table}_whole BEFORE TRUNCATE ON {table} FOR EACH STATEMENT EXECUTE FUNCTION {table}_kept()"
    )


def downgrade() -> None:
    """Refuse: what payroll was told is never thrown away."""
    raise NotImplementedError("what payroll was told is never thrown away")
