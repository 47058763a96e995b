"""Names of files taken and of their sheets that name an erased person: certainly, or by a part or a number perhaps."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa

from evenhand.store.erasing import Traces
from evenhand.store.part_names import NamingText, PartNames
from evenhand.store.tables import STORED
from evenhand.store.written import change_row

__all__ = ["RenamedFile", "files_naming", "rename_files", "rewrite_layouts"]

SAYING = ("file", "fault", "layout")
"""What of a take says its file's name, or that of a layout."""


@dataclass(frozen=True)
class RenamedFile:
    """The file of a take as it was called, and as it is called without the person."""

    take: int
    was: str
    file: str


def files_naming(conn: sa.Connection, traces: Traces, parts: PartNames) -> list[NamingText]:
    """Return the names of files that may name the person: by a part of the name, or a number, which may be a year."""
    return [
        NamingText(f"takes/{row['take']}", "file", row["file"], is_likely=parts.is_likely(left))
        for row in _takes(conn)
        if parts.names(left := _certain(row["file"], traces, ""))
    ]


def rename_files(
    conn: sa.Connection, traces: Traces, parts: PartNames, reword: Collection[str], stand_in: str
) -> list[RenamedFile]:
    """Put `stand_in` for the person in the names of files, for a part of the name too where `reword` has the take."""
    renamed = []
    for row in _takes(conn):
        said: dict[str, Any] = {}
        for name in SAYING:
            if (text := row[name]) is None:
                continue
            left = _certain(text, traces, stand_in)
            if not {f"takes/{row['take']}", f"takes/{row['take']}:file"}.isdisjoint(reword):
                left = parts.replaced(left, stand_in)
            if left != text:
                said[name] = left
        if said:
            change_row(conn, "takes", row["take"], said)
        if "file" in said:
            renamed.append(RenamedFile(row["take"], row["file"], said["file"]))
    return renamed


def _takes(conn: sa.Connection) -> list[dict[str, Any]]:
    takes = STORED["takes"].c
    columns = [takes[name] for name in ("take", *SAYING)]
    return [dict(row) for row in conn.execute(sa.select(*columns).order_by(takes["take"])).mappings()]


def _certain(text: str, traces: Traces, stand_in: str) -> str:
    return traces.named.sub(stand_in, text) if traces.named else text


def rewrite_layouts(conn: sa.Connection, take: int, rewritten: Callable[[str], str]) -> None:
    """Write the layouts that a take was ever read by as `rewritten` has them."""
    takes, made = STORED["takes"].c, STORED["take_decisions"].c
    first = conn.execute(sa.select(takes["take"], takes.layout_text).where(takes["take"] == take)).all()
    again = conn.execute(sa.select(made.decision, made.layout).where(made["take"] == take)).all()
    for table, column, rows in (("takes", "layout_text", first), ("take_decisions", "layout", again)):
        for key, text in rows:
            if text and (said := rewritten(text)) != text:
                change_row(conn, table, key, {column: said})
