"""Take files: look at them, have what is proposed confirmed, store what is in order, write down what is not."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import count
from pathlib import Path

import polars as pl

from evenhand import layouts
from evenhand.jobs.foreseen import foresee
from evenhand.jobs.incoming import Incoming, Opened, read_incoming
from evenhand.jobs.keep import Receipt, keep, taken_before
from evenhand.jobs.known import Known, Surroundings
from evenhand.jobs.seen import Answers, Proposal, Seen, first_rows, refused_rows
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Layout, Rows
from evenhand.store.replacing import replace_file
from evenhand.store.taking import find_taken
from evenhand.terms.records import Refusal

__all__ = ["Answers", "Layout", "Receipt", "RefusedFile", "Seen", "look_at", "take_file", "take_files"]

Confirm = Callable[[Seen], Answers | bool]
"""Shown a file, says what is to become of it: True takes it, False leaves a draft of its layout to edit, answers have
it looked at again."""
Progress = Callable[[str, float], None]
NO_ANSWERS = Answers()

# Punches are placed in time by their readers, schedules by their people's sites.
ORDER = ("readers", "people", "enrolments", "schedules", "consent", "rates", "earnings", "punches")


@dataclass(frozen=True)
class RefusedFile:
    """A file of which nothing was taken, and why."""

    file: str
    reason: str


def look_at(
    workspace: Workspace, file: Path | str | Incoming, answers: Answers = NO_ANSWERS, *, layout: Layout | None = None
) -> Seen:
    """Return a file as it would be taken, with what is open and what it would change; nothing is stored.

    `answers` is what a person has said about it, `layout` one written for it. Raises Refusal where it holds no table of
    rows, and where the answers cannot be followed.
    """
    known = Known(workspace)
    incoming = file if isinstance(file, Incoming) else read_incoming(Path(file))
    return _seen(known, _understand(known, incoming, answers, layout))


def take_files(
    workspace: Workspace,
    files: Iterable[Path | str | Incoming],
    *,
    answers: Answers = NO_ANSWERS,
    layout: Layout | None = None,
    confirm: Confirm | None = None,
    progress: Progress | None = None,
) -> list[Receipt | RefusedFile]:
    """Take several files, those first that others are placed by, and return what became of each, as given.

    `confirm` is shown every file that no kept layout fits; without it, what is proposed is taken. A file that is
    refused does not stop the others.
    """
    given = [file if isinstance(file, Incoming) else Path(file) for file in files]
    order = list(range(len(given)))
    known, opened = Known(workspace), Opened()
    if not answers.table and layout is None and len(given) > 1:
        order.sort(key=_turns(known, given, answers, opened).__getitem__)
    results: dict[int, Receipt | RefusedFile] = {}
    for place in order:
        file = given[place]
        try:
            incoming = file if isinstance(file, Incoming) else opened.take(file)
            results[place] = _take(known, incoming, answers, layout, confirm, progress)
        except Refusal as refusal:
            name = file.name if isinstance(file, Incoming) else str(file)
            results[place] = RefusedFile(name, str(refusal))
    return [results[place] for place in range(len(given))]


def take_file(
    workspace: Workspace,
    file: Path | str | Incoming,
    *,
    answers: Answers = NO_ANSWERS,
    layout: Layout | None = None,
    confirm: Confirm | None = None,
    progress: Progress | None = None,
) -> Receipt:
    """Take one file and return its receipt, as `take_files` does.

    Raises Refusal, with the store unchanged, where nothing of the file can be taken.
    """
    incoming = file if isinstance(file, Incoming) else read_incoming(Path(file))
    return _take(Known(workspace), incoming, answers, layout, confirm, progress)


@dataclass(frozen=True)
class _Understood:
    """A file with how it would be read; `rows` is None while that is open."""

    incoming: Incoming
    answers: Answers
    proposal: Proposal
    rows: Rows | None


def _take(
    known: Known,
    incoming: Incoming,
    answers: Answers,
    layout: Layout | None,
    confirm: Confirm | None,
    progress: Progress | None,
) -> Receipt:
    tell = progress or (lambda stage, fraction: None)
    said_nothing = answers == Answers(table=answers.table)
    if layout is None and said_nothing and (receipt := taken_before(known, incoming, answers.table)) is not None:
        return receipt
    understood = _understand(known, incoming, answers, layout, progress)
    while confirm and layout is None and (understood.proposal.questions or not understood.proposal.kept):
        answer = confirm(_seen(known, understood))
        if isinstance(answer, Answers):
            understood = _understand(known, incoming, answer, layout, progress)
            continue
        if not answer:
            raise Refusal(_left(known, understood))
        break
    if understood.rows is None:
        raise Refusal(understood.proposal.questions[0].asks)
    tell("storing", 0.0)
    surroundings = known.surroundings()
    proposal = understood.proposal
    kept_as = known.layouts.folder / proposal.kept if proposal.kept else None
    receipt = keep(known, incoming, proposal.layout, kept_as, understood.rows, surroundings)
    if receipt.table == "readers" and receipt.taken:
        receipt = replace(receipt, notices=receipt.notices + _moved_clocks(surroundings, known.surroundings()))
    tell("storing", 1.0)
    return receipt


def _understand(
    known: Known, incoming: Incoming, answers: Answers, layout: Layout | None, progress: Progress | None = None
) -> _Understood:
    """Return how a file would be read, and its rows where nothing is open."""
    proposal = Proposal(layout, ()) if layout else known.propose(incoming, answers)
    if proposal.questions:
        return _Understood(incoming, answers, proposal, None)
    surroundings = known.surroundings()
    rows = layouts.read(
        incoming.file,
        proposal.layout,
        zones=surroundings.reader_zones,
        site_zones=surroundings.site_zones,
        person_zones=surroundings.person_zones,
        progress=progress,
    )
    return _Understood(incoming, answers, proposal, rows)


def _seen(known: Known, understood: _Understood) -> Seen:
    """Return a file as a person is shown it."""
    incoming, proposal, rows = understood.incoming, understood.proposal, understood.rows
    surroundings = known.surroundings()
    with known.workspace.store.reading() as conn:
        before = find_taken(conn, incoming.sha256)
    first = first_rows(incoming.file, proposal.layout, rows, surroundings)
    seen = Seen(incoming.name, proposal, understood.answers, before["take"] if before else 0, first)
    if rows is None:
        return seen
    changes, conflicts = foresee(known.workspace.store, rows, _given(proposal.layout), surroundings.person_zones)
    rejects = pl.concat([rows.rejects, conflicts]).sort("line", maintain_order=True)
    return replace(
        seen,
        read=rows.read,
        refused=rejects.height,
        refusals=refused_rows(rejects),
        changes=changes,
        notices=rows.notices,
    )


def _given(layout: Layout) -> tuple[str, ...]:
    """Return the declared columns about which a file of this layout says something."""
    return tuple(layout.columns) + (("reader",) if layout.reader else ())


def _left(known: Known, understood: _Understood) -> str:
    """Leave the layout that was not confirmed as a draft to edit, and return what to do with it."""
    layout = understood.proposal.layout
    drafts = known.workspace.layouts / "drafts"
    drafts.mkdir(parents=True, exist_ok=True)
    draft = next(path for place in count(1) if not (path := drafts / f"{layout.table}-{place}.toml").exists())
    replace_file(draft, layout.to_toml().encode())
    return (
        f"{understood.incoming.name} was not taken; how it would have been read stands in {draft}: edit that, "
        f"and take the file with --layout {draft}."
    )


def _moved_clocks(before: Surroundings, now: Surroundings) -> tuple[str, ...]:
    return tuple(
        f"{reader} ran in {zone} and runs in {now.reader_zones[reader]} now; punches taken before keep their instants. "
        "Do not take its earlier logs again: their punches would be added a second time, at the new instants."
        for reader, zone in before.reader_zones.items()
        if now.reader_zones[reader] != zone
    )


def _turns(known: Known, files: Iterable[Path | Incoming], answers: Answers, opened: Opened) -> list[int]:
    """Return when each file's turn is; one that is refused now may be understood once the others are taken."""
    turns = []
    for file in files:
        turns.append(len(ORDER))
        with suppress(Refusal):
            incoming = file if isinstance(file, Incoming) else opened.look_at(file)
            before = taken_before(known, incoming)
            table = before.table if before else known.propose(incoming, answers).layout.table
            turns[-1] = ORDER.index(table)
    return turns
