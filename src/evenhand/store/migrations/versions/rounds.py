"""Rounds at the readers: what is to be done, and what came of it."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
NEVER_CHANGED = ("rounds", "outcomes")


def upgrade() -> None:
    """Make the tables of rounds; what is to be done may be moved while the day runs, what came of it may not."""
    _keyed("rounds", "round", *_texts("title", "day", "asked", "author"), _whole("made_at", needed=True))
    _keyed(
        "round_items",
        "item",
        _belongs("round", "rounds.round"),
        *_texts("reader", "action", "number", "language"),
        *(sa.Column(name, sa.Text()) for name in ("person", "name", "stands")),
        _whole("position", needed=True),
        _whole("starts_at"),
    )
    _keyed(
        "outcomes",
        "outcome",
        _belongs("item", "round_items.item"),
        *_texts("result", "author"),
        *(sa.Column(name, sa.Text()) for name in ("scores", "reason", "other_way")),
        _whole("presentations"),
        _whole("made_at", needed=True),
        _whole("received_at", needed=True),
    )
    for table in NEVER_CHANGED:
        _never_change(table)


def downgrade() -> None:
    """Refuse: outcomes are never thrown away."""
    raise NotImplementedError("outcomes are never thrown away")


def _keyed(name: str, key: str, *columns: sa.Column[Any]) -> None:
    first = sa.Column(key, sa.Text(), primary_key=True, nullable=False)
    op.create_table(name, first, *columns, sqlite_strict=True, sqlite_with_rowid=False)


def _texts(*names: str) -> list[sa.Column[Any]]:
    return [sa.Column(name, sa.Text(), nullable=False) for name in names]


def _whole(name: str, *, needed: bool = False) -> sa.Column[Any]:
    return sa.Column(name, INTEGER, nullable=not needed)


def _belongs(name: str, to: str) -> sa.Column[Any]:
    return sa.Column(name, sa.Text(), sa.ForeignKey(to), nullable=False)


def _never_change(table: str) -> None:
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
