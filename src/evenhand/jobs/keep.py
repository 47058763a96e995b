"""Keep what was read of a file: its rows in the store, and beside it the rejected ones and the layout."""

from __future__ import annotations

import time
from dataclasses import dataclass
from pathlib import Path

import polars as pl

from evenhand import layouts
from evenhand.jobs.incoming import Incoming
from evenhand.jobs.known import Known
from evenhand.layouts import Layout, Rows
from evenhand.store.faults import refusing
from evenhand.store.replacing import write_beside
from evenhand.store.taking import FileTaken, taking
from evenhand.terms.columns import Frame
from evenhand.terms.csv_text import MARK, as_csv
from evenhand.terms.tables import REJECTS

__all__ = ["Receipt", "keep"]


@dataclass(frozen=True)
class Receipt:
    """What became of a file: its `read` rows were `taken` (new or changed), `known` already, or `rejected`.

    `gone` counts enrolments that the file's readers list no longer. `rejected_path` is where the rejected rows
    stand, `layout_path` the layout by which the file was read, `take` the number under which `evenhand takes` lists it.
    """

    file: str
    table: str
    read: int
    taken: int
    known: int
    rejected: int
    gone: int = 0
    notices: tuple[str, ...] = ()
    rejected_path: Path | None = None
    layout_path: Path | None = None
    take: int = 0


def keep(known: Known, incoming: Incoming, layout: Layout, kept_as: Path | None, rows: Rows) -> Receipt:
    """Store the rows of a file that was read by `layout`, kept at `kept_as` or to be kept, and return the receipt."""
    workspace = known.workspace
    layout_path = kept_as or known.layouts.place_for(layout)
    rejected_path = workspace.rejected / f"{incoming.name}.csv"
    source = FileTaken(incoming.name, incoming.sha256, layout_path.name, int(time.time()))  # noqa: TID251  when it was taken
    beside: dict[Path, Path] = {}
    for place in (layout_path, rejected_path):
        place.parent.mkdir(exist_ok=True)
    try:
        # What is written beside lies on the disk before the store is committed, and is put in place after, so
        # that a full disk undoes both.
        with (
            refusing(str(workspace.directory)),
            taking(
                workspace.store,
                source,
                rows.table,
                rows.frame,
                rows.lines,
                given=tuple(layout.columns) + (("reader",) if layout.reader else ()),
                rejected=rows.rejects.height,
            ) as kept,
        ):
            contradicting = layouts.with_texts(incoming.file, layout, kept.rejects)
            rejects = pl.concat([rows.rejects, contradicting]).sort("line", maintain_order=True)
            if not layout_path.exists():
                beside[layout_path] = write_beside(layout_path, layout.to_toml().encode())
            if rejects.height:
                beside[rejected_path] = write_beside(rejected_path, _as_csv(rejects))
        for place, written in beside.items():
            written.replace(place)
        if layout_path in beside:
            known.layouts.add(layout_path, layout)
        if not rejects.height:
            rejected_path.unlink(missing_ok=True)
    finally:
        for written in beside.values():
            written.unlink(missing_ok=True)
    receipt = Receipt(
        incoming.name,
        rows.table.name,
        read=rows.read,
        taken=kept.taken,
        known=kept.known,
        rejected=rejects.height,
        gone=kept.gone,
        notices=rows.notices + _notices(rows, rejects),
        rejected_path=rejected_path if rejects.height else None,
        layout_path=layout_path,
        take=kept.take,
    )
    assert receipt.read == receipt.taken + receipt.known + receipt.rejected
    return receipt


def _notices(rows: Rows, rejects: Frame) -> tuple[str, ...]:
    if rows.table.name == "enrolments" and rejects.height:
        return (
            "Enrolments that the readers no longer list are kept, since rejected rows may be among them; "
            "correct those rows and take the file again.",
        )
    return ()


def _as_csv(rejects: Frame) -> bytes:
    return (MARK + as_csv(REJECTS.names, rejects.iter_rows())).encode()
