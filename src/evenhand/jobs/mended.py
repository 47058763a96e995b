"""What becomes of the kept layout by which a file was read wrongly, so that later files of its kind are not."""

from __future__ import annotations

from dataclasses import replace

from evenhand.jobs.kept_layouts import read_layout
from evenhand.jobs.retaking import find_standing
from evenhand.jobs.takes import TakeListed, list_takes
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Layout
from evenhand.store.faults import refusing
from evenhand.store.replacing import replace_file

__all__ = ["forget_layout", "layout_left", "mend_kept", "mend_left"]


def mend_kept(workspace: Workspace, was: TakeListed, layout: Layout) -> str:
    """Keep `layout` in place of the kept one by which a take was read before, and return the kept one's name.

    Returns '' and changes nothing where that one is no longer kept, was edited since, or says the same: what a single
    file says for itself, its reader and the order of its dates where the kept one leaves that open, is no difference.
    """
    path = workspace.layouts / was.layout
    if not was.layout or not path.is_file():
        return ""
    kept = read_layout(path)
    if _alike(kept, kept) != _alike(Layout.from_toml(was.layout_text, was.file), kept):
        return ""
    mended = replace(layout, reader=kept.reader, roster=kept.roster)
    if mended == kept:
        return ""
    # Held, since whoever takes a file sweeps what is half written in that folder.
    with workspace.sources.held(), refusing(str(workspace.layouts)):
        replace_file(path, mended.to_toml().encode())
    return was.layout


def mend_left(workspace: Workspace, take: int, layout: Layout) -> str:
    """Keep `layout` as `mend_kept` does where a take is read by it already, since whoever did so was stopped then."""
    with workspace.store.reading() as conn:
        first = find_standing(conn, take).first_layout
    was = next(one for one in list_takes(workspace) if one.take == take)
    before = [first or "", *(made.layout for made in was.decided if made.action == "again")][:-1]
    names = (mend_kept(workspace, replace(was, layout_text=text), layout) for text in reversed(before))
    return next(filter(None, names), "")


def layout_left(workspace: Workspace, back: TakeListed) -> str:
    """Return the name of the kept layout of a take that is taken back, or would be.

    It may have been part of the mistake, and would be used for the next file that it fits. '' where another take that
    stands is read by it.
    """
    with refusing(str(workspace.layouts)):
        if not back.layout or not (workspace.layouts / back.layout).is_file():
            return ""
    others = (one for one in list_takes(workspace) if one.take != back.take and not one.is_back)
    return "" if any(one.layout == back.layout for one in others) else back.layout


def forget_layout(workspace: Workspace, back: TakeListed) -> str:
    """Remove the kept layout that only a take that is taken back was read by, and return its name, '' for none."""
    left = layout_left(workspace, back)
    if left:
        with workspace.sources.held(), refusing(str(workspace.layouts)):
            (workspace.layouts / left).unlink(missing_ok=True)
    return left


def _alike(layout: Layout, kept: Layout) -> Layout:
    """Return a layout with the kept one's word on what each file may say for itself."""
    order = layout.date_order if kept.date_order else ""
    return replace(layout, reader=kept.reader, date_order=order, roster=kept.roster)
