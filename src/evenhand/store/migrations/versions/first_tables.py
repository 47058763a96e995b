"""The first tables, and the triggers that keep what is never changed."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
REAL: sa.types.TypeEngine[Any] = sa.Double().with_variant(sa.REAL(), "sqlite")
NEVER_CHANGED = ("punches", "corrections", "settled", "handoffs", "changes")


def upgrade() -> None:
    """Make every table."""
    _what_was_taken()
    _who_and_where()
    _what_was_recorded_and_decided()
    for table in NEVER_CHANGED:
        _never_change(table)


def downgrade() -> None:
    """Refuse: there is nothing before the first tables."""
    raise NotImplementedError("there is no earlier version")


def _text(name: str, *, needed: bool = False, key: bool = False) -> sa.Column[Any]:
    return sa.Column(name, sa.Text(), nullable=not (needed or key), primary_key=key)


def _whole(name: str, *, needed: bool = False, key: bool = False) -> sa.Column[Any]:
    return sa.Column(name, INTEGER, nullable=not (needed or key), primary_key=key)


def _running(name: str) -> sa.Column[Any]:
    return sa.Column(name, INTEGER, primary_key=True, autoincrement=True)


def _take(name: str = "take", *, needed: bool = True) -> sa.Column[Any]:
    return sa.Column(name, INTEGER, sa.ForeignKey("takes.take"), nullable=not needed)


def _numbered(name: str, *columns: sa.Column[Any]) -> None:
    op.create_table(name, *columns, sqlite_strict=True)


def _keyed(name: str, *columns: sa.Column[Any]) -> None:
    op.create_table(name, *columns, sqlite_strict=True, sqlite_with_rowid=False)


def _what_was_taken() -> None:
    _numbered(
        "takes",
        _running("take"),
        *(_text(name, needed=True) for name in ("file", "sha256", "table", "layout")),
        *(_whole(name, needed=True) for name in ("rows_read", "taken", "known", "refused", "gone", "taken_at")),
    )
    _numbered(
        "changes",
        _running("change"),
        *(_text(name, needed=True) for name in ("table", "row_key", "was")),
        _take(),
    )


def _who_and_where() -> None:
    _keyed(
        "people",
        _text("person", key=True),
        _text("name", needed=True),
        *(_text(name) for name in ("number", "site", "department")),
        _whole("is_supervisor"),
        *(_text(name) for name in ("hired_on", "left_on", "phone", "address", "hourly_rate")),
        _take(),
    )
    _keyed(
        "readers",
        _text("reader", key=True),
        _text("site", needed=True),
        _text("place"),
        _text("zone", needed=True),
        *(_whole(name) for name in ("max_digits", "capacity")),
        _take(),
    )
    _keyed(
        "enrolments",
        _text("reader", key=True),
        _text("number", key=True),
        _text("name"),
        _whole("is_supervisor"),
        _text("enrolled_on"),
        _whole("presentations"),
        _take(),
        _take("gone", needed=False),
    )
    _keyed(
        "schedules",
        _text("person", key=True),
        _whole("starts_at", key=True),
        _whole("ends_at", needed=True),
        _take(),
    )
    _keyed(
        "consent",
        _text("person", key=True),
        _text("given_on", key=True),
        *(_text(name) for name in ("form", "withdrawn_on")),
        _take(),
    )


def _what_was_recorded_and_decided() -> None:
    _keyed(
        "punches",
        _text("reader", key=True),
        _whole("at", key=True),
        *(_text(name, key=True) for name in ("number", "direction", "outcome")),
        _whole("ordinal", key=True),
        sa.Column("score", REAL),
        *(_whole(name, needed=True) for name in ("line", "take")),
    )
    _numbered(
        "corrections",
        _running("correction"),
        _text("action", needed=True),
        _whole("punch"),
        _text("person", needed=True),
        _whole("at"),
        _text("direction"),
        *(_text(name, needed=True) for name in ("author", "reason")),
        _whole("made_at", needed=True),
    )
    _numbered(
        "settled",
        _running("settlement"),
        *(_text(name, needed=True) for name in ("finding", "author", "reason")),
        _whole("made_at", needed=True),
    )
    _numbered(
        "handoffs",
        _running("handoff"),
        *(
            _text(name, needed=True)
            for name in ("first_day", "last_day", "file", "digest", "totals", "despite", "author")
        ),
        _whole("made_at", needed=True),
    )


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
