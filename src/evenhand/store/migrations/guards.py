"""The guard that keeps a table's rows as they were written.

Steps that stores have taken already rest on it: another guard is another function, never a change of this one.
"""

from __future__ import annotations

from alembic import op

__all__ = ["keep_rows"]


def keep_rows(table: str) -> None:
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
