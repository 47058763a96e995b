"""What is left to do on the disk once an erasure is committed: now, or when the workspace is next opened."""

from __future__ import annotations

import json

from evenhand.jobs.beside import tidy
from evenhand.jobs.workspace import Workspace
from evenhand.store.clearing import clear_disk, is_clearing
from evenhand.store.frames import handoffs
from evenhand.store.handing import put_in_place

__all__ = ["finish_erasing"]


def finish_erasing(workspace: Workspace) -> bool:
    """Put in place what an erasure wrote, remove what it replaced, and clear the disk; whether nothing is left to do.

    `Workspace.sources` must be held. What the store does not name was never erased, and stays.
    """
    put_in_place(workspace.store, workspace.handoff)
    tidy(workspace)
    if not is_clearing(workspace.store):
        return True
    with workspace.store.reading() as conn:
        named = [json.loads(text) for text in handoffs(conn)["files"]]
    for files in named:
        for name in files:
            twin = name.removesuffix(".csv") + ".xlsx"
            if name.endswith(".csv") and twin not in files:
                (workspace.handoff / twin).unlink(missing_ok=True)
    return clear_disk(workspace.store)
