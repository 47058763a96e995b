"""What was settled under `unowned_punches` stands under `unattributed_punches`, as the check is called now."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

BEFORE, AFTER = "unowned_punches/", "unattributed_punches/"


def upgrade() -> None:
    """Rename the keys; who settled what, why and when stay as they are."""
    # The trigger that keeps settled findings stands aside for this one statement.
    if op.get_bind().dialect.name == "sqlite":
        op.execute("DROP TRIGGER settled_update")
        _rename()
        op.execute(
            "CREATE TRIGGER settled_update BEFORE UPDATE ON settled "
            "BEGIN SELECT RAISE(ABORT, 'rows of settled are never changed'); END"
        )
        return
    op.execute("ALTER TABLE settled DISABLE TRIGGER settled_rows")
    _rename()
    op.execute("ALTER TABLE settled ENABLE TRIGGER settled_rows")


def downgrade() -> None:
    """Refuse: an earlier version knows the check by its former name alone."""
    raise NotImplementedError("an earlier version knows the check by its former name alone")


def _rename() -> None:
    rename = sa.text(
        "UPDATE settled SET finding = :after || substr(finding, :rest) WHERE substr(finding, 1, :n) = :before"
    )
    op.execute(rename.bindparams(after=AFTER, rest=len(BEFORE) + 1, n=len(BEFORE), before=BEFORE))
