"""Keep what was read of a file: its bytes, its rows in the store, and beside it the refused rows and the layout.

A file whose every row is refused is a take as well, though the command that took it ends with 2: only as a take can
its refused rows be looked at, and the same bytes be read again by a layout that fits them. Its layout is not kept:
nobody has seen it fit anything, and later files of that shape would be read by it unasked.
"""

from __future__ import annotations

import time
from dataclasses import replace
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

import polars as pl

from evenhand import layouts
from evenhand.jobs.beside import csv_of_refused, refused_path, tidy
from evenhand.jobs.clocks import Clocks
from evenhand.jobs.fold import given_by
from evenhand.jobs.incoming import Incoming
from evenhand.jobs.known import Known
from evenhand.jobs.receipts import Receipt, receipt_of
from evenhand.jobs.retaking import retake
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Layout, Rows
from evenhand.store.faults import refusing
from evenhand.store.owner_only import make_folder
from evenhand.store.refused import refused_rows
from evenhand.store.replacing import replace_file, write_beside
from evenhand.store.standing import Standing, same_content
from evenhand.store.takes import find_taken, newest_take, stored_take, was_erased_from
from evenhand.store.taking import FileStored, FileTaken, taking
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal

__all__ = ["keep", "taken_before"]


class _SaidBefore(Exception):  # noqa: N818  no fault: whatever the file brings is undone, since an earlier take says it all
    def __init__(self, one: Standing) -> None:
        self.one = one


def keep(
    known: Known,
    incoming: Incoming,
    layout: Layout,
    kept_as: Path | None,
    rows: Rows,
    clocks: Clocks | None = None,
    *,
    author: str = "",
) -> Receipt:
    """Store the rows of a file that was read by `layout` on `clocks`, and return the receipt.

    `kept_as` is where the layout is kept, if it is, `author` who takes the file, '' where nobody said. What was taken
    before is known, or, where it was read by another layout, read again in its place.
    """
    workspace = known.workspace
    with workspace.sources.held(), refusing(str(workspace.directory)):
        tidy(workspace)
        now = known.surroundings()
        if clocks is not None and clocks.digest(layout.table) != now.digest(layout.table):
            rows = now.read(incoming.file, layout)  # somebody took readers or a roster meanwhile
        layout_path = kept_as or known.layouts.place_for(layout)
        with workspace.store.reading() as conn:
            alike = same_content(conn, incoming.sha256, layout.table)
            newest = newest_take(conn, (layout.table,))
        if any(_is_lost(workspace, one) for one in alike):
            workspace.sources.put(incoming.sha256, incoming.content)
        if alike and alike[0].layout and (layout.table == "punches" or alike[0].take == newest):
            one = alike[0]
            read_by = Layout.from_toml(one.layout or "", one.file)
            if layout == Layout.from_toml(one.first_layout or "", one.file) != read_by:
                layout, rows = read_by, now.read(incoming.file, read_by)  # it was read again by another since
            if read_by != layout and read_by.sheet == layout.sheet:
                return _read_again(known, incoming, layout, layout_path, one.take, rows, author)
        if (receipt := taken_before(known, incoming, layout.table)) is not None:
            return receipt
        return _keep(known, incoming, layout, layout_path, rows, now, author)


def taken_before(known: Known, incoming: Incoming, table: str = "") -> Receipt | None:
    """Return the receipt of a file of which every row is stored already, None where there may be something in it.

    There may be where the layout that it was read by has been edited since; a source that was lost is to be put back.
    """
    workspace = known.workspace
    with workspace.store.reading() as conn:
        found = find_taken(conn, incoming.sha256, table or None)
        alike = same_content(conn, incoming.sha256, found["table"]) if found else []
        erased = was_erased_from(conn, incoming.sha256) if found is None else None
    if erased is not None:
        raise Refusal(
            told(
                "{name} is the file of take {erased}, from which somebody's records were erased since; "
                "taking it again would bring them back, so nothing was taken.",
                name=incoming.name,
                erased=erased,
            )
        )
    if found is None or any(_is_edited(known, one) or _is_lost(workspace, one) for one in alike):
        return None
    return Receipt(
        incoming.name,
        found["table"],
        read=found["rows_read"],
        taken=0,
        known=found["rows_read"],
        rejected=0,
        notices=(told("This content has been taken before, as {file}.", file=found["file"]),),
        layout_path=workspace.layouts / found["layout"],
        take=found["take"],
    )


def _is_lost(workspace: Workspace, one: Standing) -> bool:
    return one.layout is not None and not workspace.sources.is_whole(one.sha256)


def _is_edited(known: Known, one: Standing) -> bool:
    """Whether the kept layout of a take is another one than those that the take was ever read by."""
    now = known.layouts.by_name.get(one.layout_name)
    if now is None or one.layout is None or one.first_layout is None:
        return False
    read_by = [Layout.from_toml(text, one.file) for text in (one.layout, one.first_layout)]
    # A reader's name that the layout does not hold came from the file's own, or from whoever took it.
    return all(replace(now, reader=now.reader or layout.reader, roster=layout.roster) != layout for layout in read_by)


def _keep(
    known: Known, incoming: Incoming, layout: Layout, layout_path: Path, rows: Rows, clocks: Clocks, author: str
) -> Receipt:
    workspace = known.workspace
    is_new = workspace.sources.put(incoming.sha256, incoming.content)
    is_kept = rows.frame.height > 0 or layout_path.exists()
    kept_layout = replace(layout, roster="")  # what was said of this one list holds of no other
    source = FileTaken(
        incoming.name,
        incoming.sha256,
        layout_path.name if is_kept else "",
        int(time.time()),  # noqa: TID251  when it was taken
        layout.to_toml(),
        clocks.said,
        clocks.digest(layout.table),
        rows.to_minute,
    )
    beside: dict[Path, Path] = {}
    try:
        # What is written beside lies on the disk before the store is committed, and is put in place after, so
        # that a full disk undoes both.
        with taking(
            workspace.store,
            source,
            rows.table,
            rows.frame,
            rows.lines,
            given=given_by(layout),
            roster=layout.roster,
            rejects=rows.rejects,
            with_texts=partial(layouts.with_texts, incoming.file, layout),
            author=author,
        ) as kept:
            rejects = pl.concat([rows.rejects, kept.rejects]).sort("line", maintain_order=True)
            _refuse_said_before(workspace, incoming.sha256, layout, kept, rejects)
            if is_kept and not layout_path.exists():
                make_folder(layout_path.parent)
                beside[layout_path] = write_beside(layout_path, kept_layout.to_toml().encode())
            if rejects.height:
                path = refused_path(workspace, kept.take, incoming.name)
                beside[path] = write_beside(path, csv_of_refused(rejects))
    except _SaidBefore as before:
        was = replace(kept, take=before.one.take)
        said = told(
            "This content has been taken before, as {file}, and what was rejected then still is.", file=before.one.file
        )
        receipt = receipt_of(workspace, before.one.file, layout_path if is_kept else None, rows, was, rejects)
        return replace(receipt, file=incoming.name, notices=(said, *receipt.notices))
    except BaseException:
        for written in beside.values():
            written.unlink(missing_ok=True)
        if is_new:
            workspace.sources.drop(incoming.sha256)
        raise
    for place, written in beside.items():
        written.replace(place)
    if layout_path in beside:
        known.layouts.add(layout_path, kept_layout)
    return receipt_of(workspace, incoming.name, layout_path if is_kept else None, rows, kept, rejects)


def _refuse_said_before(workspace: Workspace, sha256: str, layout: Layout, kept: FileStored, rejects: Frame) -> None:
    """Raise _SaidBefore where nothing is new, and the same rows of the same bytes were rejected by the same layout."""
    if kept.taken or kept.gone or kept.enriched or rejects.is_empty():
        return
    with workspace.store.reading() as conn:
        for one in same_content(conn, sha256, layout.table):
            refused = refused_rows(conn, one.take).select("line", "column", "seen", "reason")
            if one.layout == layout.to_toml() and refused.rows() == rejects.select(refused.columns).rows():
                raise _SaidBefore(one)


def _read_again(
    known: Known, incoming: Incoming, layout: Layout, layout_path: Path, take: int, rows: Rows, author: str
) -> Receipt:
    workspace = known.workspace
    said = told(
        "This content had been taken before, as take {take}, by another layout: that take was read again by this one.",
        take=take,
    )
    now = datetime.now(UTC)  # noqa: TID251  when it was read again
    retake(workspace, take, "again", layout, author=author, reason=sentence("taken again by another layout"), as_of=now)
    if not layout_path.exists():  # kept only now: no other file is to be read by what was refused here
        make_folder(layout_path.parent)
        kept_layout = replace(layout, roster="")
        replace_file(layout_path, kept_layout.to_toml().encode())
        known.layouts.add(layout_path, kept_layout)
    with workspace.store.reading() as conn:
        row = stored_take(conn, take)
        rejects = refused_rows(conn, take)
    kept = FileStored(take, row["taken"], row["known"], row["gone"], rejects, row["enriched"])
    rows = replace(rows, read=row["rows_read"])  # on the clocks as of its place
    receipt = receipt_of(workspace, incoming.name, layout_path, rows, kept, rejects)
    return replace(receipt, notices=(said, *receipt.notices), is_again=True)
