"""Single rows are added, changed and erased through one door."""

from __future__ import annotations

import pytest
import sqlalchemy as sa

from evenhand.store import Store
from evenhand.store.tables import STORED
from evenhand.store.written import add_row, add_rows, change_row, erase_row

TAKE = {"file": "log.csv", "sha256": "a", "table": "punches", "layout": "", "taken_at": 5, "to_minute": 0, "is_back": 0}
COUNTS = dict.fromkeys(("rows_read", "taken", "known", "enriched", "refused", "gone"), 0)
SPAN = {"reader": "GATE", "first_at": 1, "last_at": 2}


def test_rows_are_added_changed_and_erased_by_their_key(store: Store) -> None:
    with store.writing() as conn:
        first, second = (add_row(conn, "takes", TAKE | COUNTS) for _ in range(2))
        add_rows(conn, "take_spans", [{"take": first, **SPAN}, {"take": second, **SPAN}])
        change_row(conn, "takes", second, {"fault": "torn"})
        change_row(conn, "take_spans", (first, "GATE"), {"last_at": 9})
        erase_row(conn, "take_spans", (second, "GATE"))
    with store.reading() as conn:
        assert conn.scalars(sa.select(STORED["takes"].c.fault).order_by(STORED["takes"].c["take"])).all() == [
            None,
            "torn",
        ]
        assert conn.execute(sa.select(STORED["take_spans"])).all() == [(first, "GATE", 1, 9)]


def test_a_row_that_is_not_there_is_neither_changed_nor_erased(store: Store) -> None:
    with pytest.raises(LookupError, match="takes has no row 7"), store.writing() as conn:
        change_row(conn, "takes", 7, {"fault": "torn"})
    with pytest.raises(LookupError, match="take_spans has no row"), store.writing() as conn:
        erase_row(conn, "take_spans", (7, "GATE"))
