"""Tables for codes of statements, sign-offs of hours, disputes and what was answered to them."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

from evenhand.store.migrations.guards import keep_rows

revision = "0016"
down_revision = "0015"
branch_labels = None
depends_on = None

INTEGER: sa.types.TypeEngine[Any] = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def _texts(*names: str) -> list[sa.Column[Any]]:
    return [sa.Column(name, sa.Text(), nullable=False) for name in names]


def _maybe(*names: str, kind: sa.types.TypeEngine[Any] | None = None) -> list[sa.Column[Any]]:
    return [sa.Column(name, kind or sa.Text(), nullable=True) for name in names]


def upgrade() -> None:
    """Make the tables, whose rows are never changed, and erased only where the law demands it."""
    period = ("first_day", "last_day")
    for name, key, columns in (
        ("statement_codes", "issue", _texts("code", "person", *period, "digest")),
        (
            "signoffs",
            "signoff",
            [
                *_texts("action", "person", *period, "digest", "hours"),
                *_maybe("supervisor"),
                *_texts("way"),
                *_maybe("withdraws", kind=INTEGER),
                *_texts("author"),
                *_maybe("reason"),
            ],
        ),
        (
            "disputes",
            "dispute",
            [
                *_texts("person", "kind"),
                *_maybe("day", "line"),
                *_texts("says", "way", "answer_by", "rule", "author"),
            ],
        ),
        (
            "dispute_answers",
            "answer",
            [
                sa.Column("dispute", INTEGER, sa.ForeignKey("disputes.dispute"), nullable=False),
                *_texts("outcome"),
                *_maybe("correction", "decision", kind=INTEGER),
                *_texts("reason"),
                *_maybe("answer_by"),
                *_texts("author"),
            ],
        ),
    ):
        op.create_table(
            name,
            sa.Column(key, INTEGER, primary_key=True, autoincrement=True),
            *columns,
            sa.Column("made_at", INTEGER, nullable=False),
            sqlite_strict=True,
        )
        keep_rows(name)
    op.create_index("statement_codes_by_code", "statement_codes", ["code"], unique=True)


def downgrade() -> None:
    """Refuse: what somebody agreed to or disputed is never thrown away."""
    raise NotImplementedError("what somebody agreed to or disputed is never thrown away")
