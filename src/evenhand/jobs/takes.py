"""The files taken so far: list them, take one back, read one again; what that would do is foreseen first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Literal

from evenhand.jobs.beside import refused_path
from evenhand.jobs.consequences import (
    Foreseen,
    Hanging,
    PeriodTouched,
    PunchesHeld,
    TableChange,
    WeekChange,
    compare,
    look,
    reach_of,
)
from evenhand.jobs.incoming import Incoming
from evenhand.jobs.retaking import do_in, find_standing, retake
from evenhand.jobs.seen import NotAsSeen
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Layout
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.refused import takes_with_refused
from evenhand.store.standing import standing
from evenhand.terms.languages import sentence
from evenhand.terms.records import Refusal

__all__ = [
    "Foreseen",
    "Hanging",
    "NotAsSeen",
    "PeriodTouched",
    "PunchesHeld",
    "TableChange",
    "TakeDecision",
    "TakeListed",
    "WeekChange",
    "check_signed",
    "foresee_again",
    "foresee_back",
    "layout_of",
    "list_takes",
    "read_again",
    "source_of",
    "take_back",
]

Progress = Callable[[str, float], None]
IsAsSeen = Callable[[Foreseen], bool]


@dataclass(frozen=True)
class TakeDecision:
    """What somebody decided about a take: that it is taken `back`, or read `again` by another layout (TOML)."""

    action: str
    layout: str
    author: str
    reason: str
    made_at: int


@dataclass(frozen=True)
class TakeListed:
    """A file taken, as it stands now: by which layout it is read, and what became of its rows.

    One that `is_back` is taken back: its counts are 0. One without a source was taken before sources were kept, so
    that it can neither be taken back nor read again. `layout` is the name of the kept layout it was first read by,
    `layout_text` the TOML of the one it is read by now; `fault` says why nothing of it can be read any more.
    """

    take: int
    file: str
    table: str
    taken_at: int
    read: int
    taken: int
    known: int
    rejected: int
    gone: int
    layout: str
    layout_text: str
    is_back: bool
    has_source: bool
    fault: str
    rejected_path: Path | None
    decided: tuple[TakeDecision, ...]


def list_takes(workspace: Workspace) -> list[TakeListed]:
    """Return every file taken, in order."""
    with workspace.store.reading() as conn:
        return _listed(workspace, conn)


def source_of(workspace: Workspace, take: int) -> Incoming:
    """Return the file as it was taken; raises Refusal where no take has this number or its source is not kept."""
    with workspace.store.reading() as conn:
        one = find_standing(conn, take)
    return Incoming(one.file, workspace.sources.read(one.sha256, one.file), one.sha256)


def layout_of(workspace: Workspace, take: int) -> Layout:
    """Return the layout that a take is read by now; raises Refusal as `source_of` does."""
    with workspace.store.reading() as conn:
        one = find_standing(conn, take)
    return Layout.from_toml(one.layout or "", one.file)


def check_signed(author: str | None, reason: str) -> tuple[str, str]:
    """Return who decides and why, without space around; raises Refusal where either is not said."""
    author = (author or "").strip()
    if not author or not reason.strip():
        raise Refusal(sentence("a decision is made by somebody and for a reason; give both."))
    return author, reason.strip()


def foresee_back(workspace: Workspace, take: int, *, as_of: datetime) -> Foreseen:
    """Return what `take_back` would do, writing nothing; raises Refusal where it cannot be done."""
    return _foresee(workspace, take, "back", None, as_of)


def take_back(
    workspace: Workspace,
    take: int,
    *,
    author: str,
    reason: str,
    as_of: datetime,
    is_as_seen: IsAsSeen | None = None,
    progress: Progress | None = None,
) -> TakeListed:
    """Make the store the one that never saw this take, and return the take as it then stands.

    Raises NotAsSeen, doing nothing, where what it would do now is not what somebody was shown, as `is_as_seen` tells.
    """
    return _do(workspace, take, "back", None, author, reason, as_of, is_as_seen, progress)


def foresee_again(workspace: Workspace, take: int, layout: Layout, *, as_of: datetime) -> Foreseen:
    """Return what `read_again` would do, writing nothing; raises Refusal where it cannot be done."""
    return _foresee(workspace, take, "again", layout, as_of)


def read_again(
    workspace: Workspace,
    take: int,
    layout: Layout,
    *,
    author: str,
    reason: str,
    as_of: datetime,
    is_as_seen: IsAsSeen | None = None,
    progress: Progress | None = None,
) -> TakeListed:
    """Make the store the one in which this take was read by `layout` in its place; brings back one taken back.

    Raises NotAsSeen as `take_back` does.
    """
    return _do(workspace, take, "again", layout, author, reason, as_of, is_as_seen, progress)


def _foresee(
    workspace: Workspace, take: int, action: Literal["back", "again"], layout: Layout | None, as_of: datetime
) -> Foreseen:
    with workspace.sources.held():
        return _foresee_held(workspace, take, action, layout, as_of)


def _foresee_held(
    workspace: Workspace, take: int, action: Literal["back", "again"], layout: Layout | None, as_of: datetime
) -> Foreseen:
    # The deed itself, undone: what is shown is what is done. Hours are worked out after the store is let go.
    with workspace.store.trying() as conn:
        file = find_standing(conn, take).file
        before = conn.begin_nested()
        folded = do_in(conn, workspace, take, action, layout)
        reach = reach_of(conn, folded, workspace.settings)
        after = look(workspace, conn, reach)
        before.rollback()
        was = look(workspace, conn, reach)
    return compare(take, file, was, after, folded, as_of)


def _do(
    workspace: Workspace,
    take: int,
    action: Literal["back", "again"],
    layout: Layout | None,
    author: str,
    reason: str,
    as_of: datetime,
    is_as_seen: IsAsSeen | None,
    progress: Progress | None,
) -> TakeListed:
    author, reason = check_signed(author, reason)
    with workspace.sources.held():
        if is_as_seen and not is_as_seen(_foresee_held(workspace, take, action, layout, as_of)):
            raise NotAsSeen
        retake(
            workspace,
            take,
            action,
            layout,
            author=author,
            reason=reason,
            as_of=as_of,
            progress=progress,
        )
        with workspace.store.reading() as conn:
            return next(one for one in _listed(workspace, conn) if one.take == take)


def _listed(workspace: Workspace, conn: Connection) -> list[TakeListed]:
    rows = {row["take"]: row for row in frames.takes(conn).iter_rows(named=True)}
    with_refused = takes_with_refused(conn)
    decided: dict[int, list[TakeDecision]] = {}
    for row in frames.take_decisions(conn).drop_nulls("take").iter_rows(named=True):
        made = TakeDecision(row["action"], row["layout"] or "", row["author"], row["reason"], row["made_at"])
        decided.setdefault(row["take"], []).append(made)
    return [
        TakeListed(
            take=one.take,
            file=one.file,
            table=one.table,
            taken_at=rows[one.take]["taken_at"],
            read=rows[one.take]["rows_read"],
            taken=rows[one.take]["taken"],
            known=rows[one.take]["known"],
            rejected=rows[one.take]["refused"],
            gone=rows[one.take]["gone"],
            layout=one.layout_name,
            layout_text=one.layout or "",
            is_back=one.is_back,
            has_source=one.layout is not None and workspace.sources.holds(one.sha256),
            fault=one.fault or "",
            rejected_path=refused_path(workspace, one.take, one.file) if one.take in with_refused else None,
            decided=tuple(decided.get(one.take, ())),
        )
        for one in standing(conn)
    ]
