"""What payroll was told: each file's record with its lines, and adjustments that a later file carries."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping
from datetime import date
from io import BytesIO
from typing import Any

import polars as pl
import sqlalchemy as sa

from evenhand.store.kept import ADJUSTMENTS, HANDOFFS
from evenhand.store.tables import STORED
from evenhand.store.whole_columns import read_columns
from evenhand.store.written import add_row, add_rows
from evenhand.terms.columns import Frame, Table
from evenhand.terms.handed_off import HANDED_OFF, HANDED_OFF_LINES, PRINTED

__all__ = [
    "add_adjustment",
    "add_handoff",
    "adjustments",
    "figures_told",
    "files_told",
    "handed_off_lines",
    "handoffs",
    "in_force",
    "lines_told",
    "printed_figures",
]


def handoffs(conn: sa.Connection) -> Frame:
    """Return the files handed to payroll (HANDOFFS), in order."""
    return _every(conn, HANDOFFS)


def files_told(conn: sa.Connection) -> dict[int, str]:
    """Return by hand-off the files that it wrote and their digests, in the text that is stored, however that reads."""
    stored = STORED["handoffs"].c
    return dict(iter(conn.execute(sa.select(stored.handoff, stored.files)).all()))


def adjustments(conn: sa.Connection) -> Frame:
    """Return the adjustments (ADJUSTMENTS), in order."""
    return _every(conn, ADJUSTMENTS)


def in_force(files: Frame) -> Frame:
    """Return the files (HANDOFFS) that count: the last of each period.

    A file of a version before this one was overwritten by the next of its period, and so names none that it replaces.
    """
    return files.unique(["first_day", "last_day"], keep="last", maintain_order=True)


def handed_off_lines(conn: sa.Connection, since: date) -> Frame:
    """Return what payroll is told (HANDED_OFF_LINES) of the periods that end on `since` or later.

    An adjustment counts once a file carries it, or while none does and the file that it adds to is in force: what
    replaces that file says it itself. What was made good elsewhere always counts.
    """
    files, decided = in_force(handoffs(conn)), adjustments(conn)
    known = files.filter(pl.col("last_day") >= since, "is_detailed")
    own = _contents(conn, "handoff", known["handoff"].to_list())
    found = [_numbered(lines, number, None, None) for number, lines in own.items()]
    carriers = {
        number: carrier
        for carrier, carries in files.select("handoff", "carries").iter_rows()
        for number in json.loads(carries)
    }
    standing = set(files["handoff"].to_list())
    counting = {
        row["adjustment"]: row["handoff"]
        for row in decided.filter(pl.col("last_day") >= since).iter_rows(named=True)
        if row["way"] == "elsewhere" or row["adjustment"] in carriers or row["handoff"] in standing
    }
    for number, lines in _contents(conn, "adjustment", counting).items():
        found.append(_numbered(lines, counting[number], number, carriers.get(number)))
    return pl.concat([HANDED_OFF_LINES.empty(), *found])


def printed_figures(conn: sa.Connection, since: date) -> dict[int, Frame]:
    """Return the figures (PRINTED) of each file in force of the periods that end on `since` or later, by its number.

    A file of a version that kept none is left out.
    """
    known = in_force(handoffs(conn)).filter(pl.col("last_day") >= since)["handoff"].to_list()
    kept = STORED["handoff_figures"].c
    rows = sa.select(kept.handoff, kept.content).where(kept.handoff.in_(known))
    return {number: PRINTED.check(pl.read_ipc_stream(BytesIO(content))) for number, content in conn.execute(rows)}


def figures_told(conn: sa.Connection) -> dict[int, Frame]:
    """Return the figures (PRINTED) of every file that kept them, also of those that count no longer."""
    kept = STORED["handoff_figures"].c
    rows = conn.execute(sa.select(kept.handoff, kept.content).order_by(kept.handoff))
    return {number: PRINTED.check(pl.read_ipc_stream(BytesIO(content))) for number, content in rows}


def add_handoff(
    conn: sa.Connection,
    lines: Frame,
    *,
    period: tuple[date, date],
    file: str,
    digest: str,
    totals: str,
    despite: str,
    author: str,
    made_at: int,
    files: Mapping[str, str],
    money: Collection[str],
    figures: Frame,
    replaces: int | None = None,
    reason: str = "",
    carries: Collection[int] = (),
) -> int:
    """Add a file handed to payroll (HANDOFFS) with what it tells of its own period (HANDED_OFF); return its number.

    `figures` are those of time that it prints (PRINTED).
    """
    values: dict[str, Any] = {
        "first_day": period[0].isoformat(),
        "last_day": period[1].isoformat(),
        "file": file,
        "digest": digest,
        "totals": totals,
        "despite": despite,
        "author": author,
        "made_at": made_at,
        "replaces": replaces,
        "reason": reason,
        "files": json.dumps(dict(files)),
        "carries": json.dumps(sorted(carries)),
        "money": json.dumps(sorted(money)),
        "is_detailed": 1,
    }
    number = _add(conn, "handoff", values, lines)
    add_rows(conn, "handoff_figures", [{"handoff": number, "content": _arrow(PRINTED.check(figures))}])
    return number


def add_adjustment(
    conn: sa.Connection,
    lines: Frame,
    *,
    handoff: int,
    period: tuple[date, date],
    way: str,
    author: str,
    reason: str,
    made_at: int,
) -> int:
    """Add an adjustment (ADJUSTMENTS) with what it is to tell (HANDED_OFF); return its number."""
    values = {
        "handoff": handoff,
        "first_day": period[0].isoformat(),
        "last_day": period[1].isoformat(),
        "way": way,
        "author": author,
        "reason": reason,
        "made_at": made_at,
    }
    return _add(conn, "adjustment", values, lines)


def _add(conn: sa.Connection, of: str, values: Mapping[str, Any], lines: Frame) -> int:
    number = add_row(conn, f"{of}s", values)
    add_rows(conn, f"{of}_lines", [{of: number, "content": _arrow(HANDED_OFF.check(lines))}])
    return number


def _arrow(frame: Frame) -> bytes:
    content = BytesIO()
    frame.write_ipc_stream(content, compression="zstd")
    return content.getvalue()


def _every(conn: sa.Connection, table: Table) -> Frame:
    columns = (STORED[table.name].c[name] for name in table.names)
    return read_columns(conn, table, sa.select(*columns)).sort(table.key)


def _contents(conn: sa.Connection, of: str, numbers: Collection[int]) -> dict[int, Frame]:
    stored = STORED[f"{of}_lines"].c
    rows = sa.select(stored[of], stored.content).where(stored[of].in_(list(numbers))).order_by(stored[of])
    return {number: HANDED_OFF.check(pl.read_ipc_stream(BytesIO(content))) for number, content in conn.execute(rows)}


def lines_told(conn: sa.Connection, of: str) -> dict[int, Frame]:
    """Return what each file (`handoff`) or each adjustment ever told (HANDED_OFF), also those that count no longer."""
    return _contents(conn, of, list(conn.scalars(sa.select(STORED[f"{of}_lines"].c[of]))))


def _numbered(lines: Frame, handoff: int, adjustment: int | None, carrier: int | None) -> Frame:
    numbers = {"handoff": handoff, "adjustment": adjustment, "carrier": carrier}
    return lines.select(
        *(pl.lit(number, dtype=pl.Int64).alias(name) for name, number in numbers.items()), *HANDED_OFF.names
    )
