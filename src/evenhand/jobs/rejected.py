"""The rejected rows of a file taken, as the store keeps them."""

from __future__ import annotations

from evenhand.jobs.workspace import Workspace
from evenhand.store.refused import refused_rows
from evenhand.terms.columns import Frame

__all__ = ["rejected_rows"]


def rejected_rows(workspace: Workspace, take: int) -> Frame:
    """Return the rejected rows of a take in the order of their lines: `line`, `column`, `seen`, `reason`, `text`."""
    with workspace.store.reading() as conn:
        return refused_rows(conn, take)
