"""Take files: read them by their layouts, store what is in order, and write down what is not."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from evenhand import layouts
from evenhand.jobs.incoming import Incoming, Opened, read_incoming
from evenhand.jobs.keep import Receipt, keep
from evenhand.jobs.known import Known, Surroundings
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Answers, KnownCells, Layout
from evenhand.store.taking import find_taken
from evenhand.terms.records import Refusal

__all__ = ["Layout", "Receipt", "RefusedFile", "take_file", "take_files"]

Confirm = Callable[[Layout], Layout]
Progress = Callable[[str, float], None]

# Punches are placed in time by their readers, schedules by their people's sites.
ORDER = ("readers", "people", "enrolments", "schedules", "consent", "rates", "earnings", "punches")


@dataclass(frozen=True)
class RefusedFile:
    """A file of which nothing was taken, and why."""

    file: str
    reason: str


def take_files(
    workspace: Workspace,
    paths: Iterable[Path | str],
    *,
    table: str | None = None,
    reader: str | None = None,
    confirm: Confirm | None = None,
    progress: Progress | None = None,
) -> list[Receipt | RefusedFile]:
    """Take several files, those first that others are placed by, and return what became of each, as given.

    A file that is refused does not stop the others.
    """
    given = [Path(path) for path in paths]
    order = list(range(len(given)))
    known, opened = Known(workspace), Opened()
    if table is None and len(given) > 1:
        order.sort(key=_turns(known, given, reader, opened).__getitem__)
    results: dict[int, Receipt | RefusedFile] = {}
    for place in order:
        try:
            results[place] = _take(known, opened.take(given[place]), table, reader, None, confirm, progress)
        except Refusal as refusal:
            results[place] = RefusedFile(str(given[place]), str(refusal))
    return [results[place] for place in range(len(given))]


def take_file(
    workspace: Workspace,
    path: Path | str,
    *,
    table: str | None = None,
    reader: str | None = None,
    layout: Layout | None = None,
    confirm: Confirm | None = None,
    progress: Progress | None = None,
) -> Receipt:
    """Take one file and return its receipt.

    `table` and `reader` say what the file is where it does not say so itself; `layout` is one that is confirmed
    already. Otherwise a kept layout that fits is used, or one is proposed, which `confirm` may adjust or refuse;
    the confirmed one is kept. Raises Refusal, with the store unchanged, where nothing of the file can be taken.
    """
    return _take(Known(workspace), read_incoming(Path(path)), table, reader, layout, confirm, progress)


def _take(
    known: Known,
    incoming: Incoming,
    table: str | None,
    reader: str | None,
    layout: Layout | None,
    confirm: Confirm | None,
    progress: Progress | None,
) -> Receipt:
    tell = progress or (lambda stage, fraction: None)
    if layout is None and reader is None and (receipt := _taken_before(known, incoming, table)) is not None:
        return receipt
    file = incoming.file
    surroundings = known.surroundings()
    kept_as = None
    if layout is None:
        proposal = layouts.propose(
            file,
            Answers(table=table or "", reader=reader or ""),
            KnownCells(readers=list(surroundings.reader_zones)),
            known.layouts.by_name,
        )
        if proposal.questions:
            raise Refusal(proposal.questions[0].asks)
        layout = proposal.layout
        if proposal.kept:
            kept_as = known.layouts.folder / proposal.kept
        elif confirm:
            layout = confirm(layout)
    rows = layouts.read(
        file,
        layout,
        zones=surroundings.reader_zones,
        site_zones=surroundings.site_zones,
        person_zones=surroundings.person_zones,
        progress=progress,
    )
    tell("storing", 0.0)
    receipt = keep(known, incoming, layout, kept_as, rows)
    if receipt.table == "readers" and receipt.taken:
        receipt = replace(receipt, notices=receipt.notices + _moved_clocks(surroundings, known.surroundings()))
    tell("storing", 1.0)
    return receipt


def _moved_clocks(before: Surroundings, now: Surroundings) -> tuple[str, ...]:
    return tuple(
        f"{reader} ran in {zone} and runs in {now.reader_zones[reader]} now; punches taken before keep their instants. "
        "Do not take its earlier logs again: their punches would be added a second time, at the new instants."
        for reader, zone in before.reader_zones.items()
        if now.reader_zones[reader] != zone
    )


def _taken_before(known: Known, incoming: Incoming, table: str | None) -> Receipt | None:
    with known.workspace.store.reading() as conn:
        found = find_taken(conn, incoming.sha256, table)
    if found is None:
        return None
    return Receipt(
        incoming.name,
        found["table"],
        read=found["rows_read"],
        taken=0,
        known=found["rows_read"],
        rejected=0,
        notices=(f"This content has been taken before, as {found['file']}.",),
        layout_path=known.workspace.layouts / found["layout"],
    )


def _turns(known: Known, paths: Iterable[Path], reader: str | None, opened: Opened) -> list[int]:
    """Return when each file's turn is; one that is refused now may be understood once the others are taken."""
    listed = list(known.surroundings().reader_zones)
    layouts_seen: list[Layout] = []
    turns = []
    for path in paths:
        turns.append(len(ORDER))
        with suppress(Refusal):
            incoming = opened.look_at(path)
            if (alike := _told_at_once(known, incoming, layouts_seen)) is None:
                found = layouts.recognise(incoming.file, reader=reader, known_readers=listed, seen=incoming.sketch)
                layouts_seen.append(found)
                alike = found.table
            turns[-1] = ORDER.index(alike)
    return turns


def _told_at_once(known: Known, incoming: Incoming, layouts_seen: Iterable[Layout]) -> str | None:
    """Return the table of a file that was taken before or is like one; None where it has to be recognised."""
    if before := _taken_before(known, incoming, None):
        return before.table
    kept = [*(layout for _, layout in sorted(known.layouts.by_name.items())), *layouts_seen]
    return next((layout.table for layout in kept if layouts.matches(layout, incoming.file)), None)
