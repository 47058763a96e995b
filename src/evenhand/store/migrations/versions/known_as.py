"""Under which identifier people stand now who were listed by their numbers before."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the column, and fill it for those whose number one person of their name has now."""
    op.add_column("people", sa.Column("known_as", sa.Text()))
    conn = op.get_bind()
    rows = conn.execute(sa.text("SELECT person, name, number, gone FROM people")).all()
    holders: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for person, name, number, gone in rows:
        if number is not None and gone is None:
            holders.setdefault((number, _folded(name)), []).append(person)
    for person, name, number, gone in rows:
        now = holders.get((person, _folded(name)), [])
        if gone is not None and number is None and len(now) == 1:
            conn.execute(
                sa.text("UPDATE people SET known_as = :now WHERE person = :person"), {"now": now[0], "person": person}
            )


def downgrade() -> None:
    """Take the column away; a fold makes it anew."""
    op.drop_column("people", "known_as")


def _folded(name: str | None) -> tuple[str, ...]:
    words = (name or "").lower()
    for mark in ",;":
        words = words.replace(mark, " ")
    return tuple(sorted(words.split()))
