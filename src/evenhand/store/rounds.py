"""Keep rounds: what is to be done may be moved while the day runs; what came of it is added once and stays."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import sqlalchemy as sa
from sqlalchemy.dialects import postgresql, sqlite

from evenhand.store.tables import STORED
from evenhand.store.written import add_rows, note_rows
from evenhand.terms.columns import Frame

__all__ = ["add_items", "add_outcomes", "add_round", "move_items"]


def add_round(conn: sa.Connection, header: Mapping[str, Any], items: Frame) -> None:
    """Add a round (a row of ROUNDS) with its items (ROUND_ITEMS)."""
    day = header["day"].isoformat()
    add_rows(conn, "rounds", [{**header, "day": day}])
    add_items(conn, items)


def add_items(conn: sa.Connection, items: Frame) -> None:
    """Add items (ROUND_ITEMS) to rounds that are there."""
    add_rows(conn, "round_items", items.to_dicts())


def move_items(conn: sa.Connection, items: Frame) -> None:
    """Give items (ROUND_ITEMS) already stored their reader, place, time and who stands there."""
    stored = STORED["round_items"]
    moved = ("reader", "position", "starts_at", "stands")
    rows = [{"key_item": row["item"], **{name: row[name] for name in moved}} for row in items.iter_rows(named=True)]
    if rows:
        values: dict[str, Any] = {name: sa.bindparam(name) for name in moved}
        conn.execute(
            stored.update().where(stored.c.item == sa.bindparam("key_item")).values(**values, moved=stored.c.moved + 1),
            rows,
        )
        note_rows(conn, "round_items", [(row["key_item"],) for row in rows])


def add_outcomes(conn: sa.Connection, outcomes: Iterable[Mapping[str, Any]]) -> int:
    """Add outcomes (rows of OUTCOMES) and return how many were new; one whose name is known changes nothing."""
    insert = sqlite.insert if conn.dialect.name == "sqlite" else postgresql.insert
    stored, added = STORED["outcomes"], 0
    for row in outcomes:
        made = insert(stored).values(dict(row)).on_conflict_do_nothing(index_elements=["outcome"])
        new = conn.execute(made.returning(stored.c.outcome)).all()
        note_rows(conn, "outcomes", [tuple(key) for key in new], are_new=True)
        added += len(new)
    return added
