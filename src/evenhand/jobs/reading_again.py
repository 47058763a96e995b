"""By which layout a file that was taken is to be read again."""

from __future__ import annotations

from evenhand.jobs.take import look_at
from evenhand.jobs.takes import source_of
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Answers, Layout
from evenhand.terms.records import Refusal

__all__ = ["layout_for"]


def layout_for(workspace: Workspace, take: int, answers: Answers, written: Layout | None = None) -> Layout:
    """Return the layout that fits the file of a take best now, given what is said about it; or the `written` one.

    Raises Refusal where that leaves a question open.
    """
    seen = look_at(workspace, source_of(workspace, take), answers, layout=written)
    if seen.proposal.questions:
        raise Refusal(seen.proposal.questions[0].asks)
    return seen.proposal.layout
