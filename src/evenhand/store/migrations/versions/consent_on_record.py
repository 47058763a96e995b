"""Tables for policy versions and for what people said of having their hand enrolled."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Make the tables, whose rows are never changed."""
    op.create_table(
        "consent_policies",
        sa.Column("policy", INTEGER, primary_key=True, autoincrement=True),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("name", "text", "digest", "in_force_from")),
        sa.Column("renew_by", sa.Text(), nullable=True),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("made_at", INTEGER, nullable=False),
        sqlite_strict=True,
    )
    op.create_table(
        "consent_decisions",
        sa.Column("decision", INTEGER, primary_key=True, autoincrement=True),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("action", "person")),
        sa.Column("policy", INTEGER, nullable=True),
        sa.Column("said_on", sa.Text(), nullable=False),
        sa.Column("said_at", INTEGER, nullable=True),
        sa.Column("how", sa.Text(), nullable=False),
        *(sa.Column(name, sa.Text(), nullable=True) for name in ("language", "other_way")),
        sa.Column("takes_back", INTEGER, nullable=True),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("made_at", INTEGER, nullable=False),
        sqlite_strict=True,
    )
    for table in ("consent_policies", "consent_decisions"):
        _never_changed(table)


def _never_changed(table: str) -> None:
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_{verb.lower()} BEFORE {verb} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are never changed'); END"
            )
        return
    op.execute(
        f"CREATE FUNCTION {table}_kept() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION 'rows of {table} are never changed'; END $$"
    )
    op.execute(
        f"CREATE TRIGGER {table}_rows BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW EXECUTE FUNCTION {table}_kept()"
    )
    op.execute(
        f"CREATE TRIGGER {table}_whole BEFORE TRUNCATE ON {table} FOR EACH STATEMENT EXECUTE FUNCTION {table}_kept()"
    )


def downgrade() -> None:
    """Refuse: what somebody decided is never thrown away."""
    raise NotImplementedError("what somebody decided is never thrown away")
