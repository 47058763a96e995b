"""By which layout a file that was taken is to be read again."""

from __future__ import annotations

from evenhand.jobs.take import Seen, look_at
from evenhand.jobs.takes import layout_of, source_of
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Answers, Layout
from evenhand.terms.records import Refusal

__all__ = ["layout_for", "look_again"]


def look_again(workspace: Workspace, take: int, answers: Answers, written: Layout | None = None) -> Seen:
    """Return the file of a take as it would be read now, given what is said about it; nothing is stored."""
    return look_at(workspace, source_of(workspace, take), answers, layout=written, of_take=layout_of(workspace, take))


def layout_for(workspace: Workspace, take: int, answers: Answers, written: Layout | None = None) -> Layout:
    """Return the layout that fits the file of a take best now, given what is said about it; or the `written` one.

    Raises Refusal where that leaves a question open.
    """
    seen = look_again(workspace, take, answers, written)
    if seen.proposal.questions:
        raise Refusal(seen.proposal.questions[0].asks)
    return seen.proposal.layout
