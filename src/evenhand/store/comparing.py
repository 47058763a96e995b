"""Compare what is stored, row by row, with what was stored at the beginning of the same transaction."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa

from evenhand.store.tables import KEYED, STORED

__all__ = ["Difference", "differences", "set_aside"]

# Running numbers say nothing, and how the columns of a part are pressed may differ from one program to the next.
LEFT_OUT = {"changes": ("change",), "refused_rows": ("refusal",), "punch_parts": ("part", "content")}
FOLDED = ("takes", *KEYED, "changes", "punches", "punch_details", "punch_parts", "take_spans", "refused_rows")

PUNCHED = ("punches", "punch_parts")
"""Of these, the tables with a row, or a part, for every punch; each says of which take it is."""


@dataclass(frozen=True)
class Difference:
    """A row that was stored and is no longer, or is and was not (`is_new`)."""

    table: str
    is_new: bool
    row: dict[str, Any]


def set_aside(conn: sa.Connection) -> None:
    """Copy everything that takes are folded into, for this connection alone."""
    for name in FOLDED:
        columns = ", ".join(_columns(conn, name))
        conn.exec_driver_sql(f"DROP TABLE IF EXISTS was_{name}")
        conn.exec_driver_sql(f"CREATE TEMPORARY TABLE was_{name} AS SELECT {columns} FROM {name}")


def differences(conn: sa.Connection, most: int, punched: Collection[int] | None = None) -> tuple[int, list[Difference]]:
    """Return how many rows differ from those set aside, and the first of each table, `most` of a kind.

    `punched` are the takes whose punches were taken out or put in since, where that is known: those of all others, the
    most that is stored, are as they were.
    """
    count, found = 0, []
    named = ", ".join(str(int(take)) for take in sorted(punched or ())) or "NULL"
    for name in FOLDED:
        columns = _columns(conn, name)
        listed = ", ".join(columns)
        where = f"WHERE take IN ({named})" if punched is not None and name in PUNCHED else ""
        for is_new, left, right in ((False, f"was_{name}", name), (True, name, f"was_{name}")):
            # Counted, so that a row that stands twice is not the same as one that stands once.
            rows = (
                f"SELECT {listed}, count(*) AS times FROM {left} {where} GROUP BY {listed} EXCEPT "
                f"SELECT {listed}, count(*) FROM {right} {where} GROUP BY {listed}"
            )
            count += conn.exec_driver_sql(f"SELECT count(*) FROM ({rows}) AS differing").scalar() or 0
            first = conn.exec_driver_sql(f"SELECT {listed} FROM ({rows}) AS differing ORDER BY {listed} LIMIT {most}")
            found += [Difference(name, is_new, dict(row)) for row in first.mappings()]
    for name in FOLDED:
        conn.exec_driver_sql(f"DROP TABLE was_{name}")
    return count, found


def _columns(conn: sa.Connection, name: str) -> list[str]:
    quote = conn.dialect.identifier_preparer.quote
    return [quote(column.name) for column in STORED[name].columns if column.name not in LEFT_OUT.get(name, ())]
