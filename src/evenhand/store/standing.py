"""How each take stands: by which layout its file is read, or that it is taken back; what is decided about takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa

from evenhand.store.tables import STORED
from evenhand.store.written import add_row

__all__ = ["Standing", "add_take_decision", "decisions_made", "known_state", "same_content", "standing"]


@dataclass(frozen=True)
class Standing:
    """A take as the decisions about it leave it.

    `layout` is the whole text it is read by now, `first_layout` that by which it was read at first, `zones` what the
    settings said of zones; they are None where the file was taken before sources were kept. `table` is the one that its
    rows are in, `clocks` the digest of the clocks they were placed by; `fault` says why nothing can be read.
    """

    take: int
    file: str
    sha256: str
    table: str
    layout_name: str
    layout: str | None
    first_layout: str | None
    zones: str | None
    clocks: str | None
    is_back: bool
    fault: str | None


def standing(conn: sa.Connection) -> list[Standing]:
    """Return every take, in order."""
    takes, made = STORED["takes"], STORED["take_decisions"].c
    decided: dict[int, dict[str, Any]] = {}
    rows = sa.select(made["take"], made.action, made.layout, made.zones).where(made["take"].is_not(None))
    for take, action, layout, zones in conn.execute(rows.order_by(made.decision)):
        stands = decided.setdefault(take, {})
        stands["is_back"] = action == "back"
        if action == "again":
            stands |= {"layout": layout, "zones": zones}
    return [
        _stands(row, decided.get(row["take"], {}))
        for row in conn.execute(sa.select(takes).order_by(takes.c["take"])).mappings()
    ]


def _stands(row: sa.RowMapping, decided: Mapping[str, Any]) -> Standing:
    return Standing(
        take=row["take"],
        file=row["file"],
        sha256=row["sha256"],
        table=row["table"],
        layout_name=row["layout"],
        layout=decided.get("layout", row["layout_text"]),
        first_layout=row["layout_text"],
        zones=decided.get("zones", row["zones"]),
        clocks=row["clocks"],
        is_back=bool(decided.get("is_back", False)),
        fault=row["fault"],
    )


def add_take_decision(
    conn: sa.Connection,
    *,
    action: str,
    take: int | None = None,
    layout: str | None = None,
    zones: str | None = None,
    author: str,
    reason: str,
    made_at: int,
) -> int:
    """Add what was decided about a take (TAKE_DECISIONS) and return its running number."""
    values = {
        "action": action,
        "take": take,
        "layout": layout,
        "zones": zones,
        "author": author,
        "reason": reason,
        "made_at": made_at,
    }
    return add_row(conn, "take_decisions", values)


def decisions_made(conn: sa.Connection) -> int:
    """Return how many decisions about takes there are, and erasures: 0 where nothing that was stored has ever gone."""
    counts = (sa.select(sa.func.count()).select_from(STORED[name]) for name in ("take_decisions", "erasures"))
    return sum(conn.scalar(count) or 0 for count in counts)


def known_state(conn: sa.Connection) -> tuple[int, int]:
    """Return what grows whenever clocks, people, readers or the numbers enrolled may have changed."""
    takes = STORED["takes"].c
    newest = conn.scalar(
        sa.select(sa.func.max(takes["take"])).where(takes.table.in_(("readers", "people", "enrolments")))
    )
    return newest or 0, decisions_made(conn)


def same_content(conn: sa.Connection, sha256: str, table: str) -> list[Standing]:
    """Return the takes that hold this very content, as rows of `table`, and are not taken back, newest first."""
    alike = [one for one in standing(conn) if one.sha256 == sha256 and one.table == table and not one.is_back]
    return alike[::-1]
