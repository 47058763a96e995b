"""Make the store anew from its sources, what was decided and what the settings said: the last resort, and the test."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from evenhand.jobs.beside import forget_refused_files, tidy
from evenhand.jobs.fold import Folded, fold
from evenhand.jobs.workspace import Workspace
from evenhand.store.comparing import Difference, differences, set_aside
from evenhand.store.database import Connection
from evenhand.store.standing import add_take_decision

__all__ = ["Difference", "Rebuilt", "rebuild"]

SHOWN = 5
Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class Rebuilt:
    """How many takes were folded anew, and how many rows then differ from what was stored, with the first of them.

    `is_try` says that it was only tried: the store is as it was.
    """

    takes: int
    differing: int
    first: tuple[Difference, ...]
    notices: tuple[str, ...]
    is_try: bool


def rebuild(
    workspace: Workspace, is_try: bool, *, author: str = "", as_of: datetime, progress: Progress | None = None
) -> Rebuilt:
    """Fold every take anew in one transaction, and return where the outcome differs from what was stored.

    Takes from before sources were kept stay as they are. Raises Refusal, with the store as it was, where a source is
    missing or damaged.
    """
    with workspace.sources.held():
        if is_try:
            with workspace.store.trying() as conn:
                _, rebuilt = _anew(workspace, conn, progress, is_try=True)
            return rebuilt
        tidy(workspace)
        try:
            with workspace.store.writing() as conn:
                folded, rebuilt = _anew(workspace, conn, progress, is_try=False)
                add_take_decision(
                    conn, action="rebuild", author=author.strip(), reason="", made_at=int(as_of.timestamp())
                )
                forget_refused_files(workspace, conn, folded.takes)
        finally:
            tidy(workspace)
    return rebuilt


def _anew(workspace: Workspace, conn: Connection, progress: Progress | None, *, is_try: bool) -> tuple[Folded, Rebuilt]:
    set_aside(conn)
    folded = fold(conn, workspace.sources, None, progress)
    differing, first = differences(conn, SHOWN)
    return folded, Rebuilt(len(folded.takes), differing, tuple(first), folded.notices, is_try)
