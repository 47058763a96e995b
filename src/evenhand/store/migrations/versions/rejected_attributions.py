"""A table for rejected attributions, which stood as keys among the settled findings."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
TAKEN_BACK = "stray_taken_back"
IS_REJECTION = "(finding LIKE 'stray!_rejected/%' ESCAPE '!' OR finding LIKE 'stray!_taken!_back/%' ESCAPE '!')"


def upgrade() -> None:
    """Make the table, and move there what was settled under such a key."""
    rejections = op.create_table(
        "rejected_attributions",
        sa.Column("rejection", INTEGER, primary_key=True, autoincrement=True),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("reader", "number", "person")),
        sa.Column("is_withdrawn", INTEGER, nullable=False),
        *(sa.Column(name, sa.Text(), nullable=False) for name in ("author", "reason")),
        sa.Column("made_at", INTEGER, nullable=False),
        sqlite_strict=True,
    )
    if moved := [_rejection(row) for row in _settled_rejections()]:
        op.bulk_insert(rejections, moved)
        _forget_settled_rejections()
    _never_change("rejected_attributions")


def downgrade() -> None:
    """Refuse: what somebody decided is never thrown away."""
    raise NotImplementedError("what somebody decided is never thrown away")


def _settled_rejections() -> list[sa.RowMapping]:
    rows = f"SELECT finding, author, reason, made_at FROM settled WHERE {IS_REJECTION} ORDER BY settlement"
    return list(op.get_bind().execute(sa.text(rows)).mappings())


def _rejection(settled: sa.RowMapping) -> dict[str, Any]:
    what, _, key = settled["finding"].partition("/")
    reader, number, person = key.split("\t")
    said = {name: settled[name] for name in ("author", "reason", "made_at")}
    return {"reader": reader, "number": number, "person": person, "is_withdrawn": int(what == TAKEN_BACK)} | said


def _forget_settled_rejections() -> None:
    # They are moved, not taken back: the trigger that keeps settled findings stands aside for this one statement.
    delete = f"DELETE FROM settled WHERE {IS_REJECTION}"
    if op.get_bind().dialect.name == "sqlite":
        op.execute("DROP TRIGGER settled_delete")
        op.execute(delete)
        op.execute(_kept("settled", "DELETE"))
        return
    op.execute("ALTER TABLE settled DISABLE TRIGGER settled_rows")
    op.execute(delete)
    op.execute("ALTER TABLE settled ENABLE TRIGGER settled_rows")


def _kept(table: str, verb: str) -> str:
    return (
        f"CREATE TRIGGER {table}_{verb.lower()} BEFORE {verb} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are never changed'); END"
    )


def _never_change(table: str) -> None:
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("UPDATE", "DELETE"):
            op.execute(_kept(table, verb))
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
