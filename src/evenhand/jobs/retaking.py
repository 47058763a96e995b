"""Decide about a take, and fold the store anew with it: one transaction, and the files beside it put right after."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from evenhand.jobs.beside import forget_refused_files, tidy
from evenhand.jobs.clocks import said_of_zones
from evenhand.jobs.fold import Folded, Progress, fold
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Layout
from evenhand.store.database import Connection
from evenhand.store.standing import Standing, add_take_decision, standing
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal, Unknown

__all__ = ["ReadSoAlready", "do_in", "find_standing", "retake"]


class ReadSoAlready(Refusal):
    """A take is to be read again by the very layout that it is read by."""


def find_standing(conn: Connection, take: int) -> Standing:
    """Return a take as it stands; raises Refusal where there is none of this number, or its source is not kept."""
    for one in standing(conn):
        if one.take == take:
            if one.layout is None:
                raise Refusal(
                    told(
                        "take {take}, {file}, is from before sources were kept, so it can be neither taken back "
                        "nor read again; take the file again, which corrects what it says otherwise.",
                        take=take,
                        file=one.file,
                    )
                )
            return one
    raise Unknown(told("there is no take {take}; `evenhand takes` lists them.", take=take))


def do_in(
    conn: Connection,
    workspace: Workspace,
    take: int,
    action: Literal["back", "again"],
    layout: Layout | None = None,
    *,
    author: str = "",
    reason: str = "",
    made_at: int = 0,
    progress: Progress | None = None,
) -> Folded:
    """Add the decision in the transaction `conn` is in, and fold what it touches.

    Raises Refusal where the take stands like that already, or nothing can be done about it.
    """
    one = find_standing(conn, take)
    text = zones = None
    if action == "back" and one.is_back:
        raise Refusal(
            told("take {take}, {file}, is taken back already; nothing was changed.", take=take, file=one.file)
        )
    if action == "again":
        assert layout is not None
        text, zones = layout.to_toml(), said_of_zones(workspace.settings)
        if not one.is_back and zones == one.zones and layout == Layout.from_toml(one.layout or "", one.file):
            raise ReadSoAlready(
                told(
                    "take {take}, {file}, is read by this very layout already; nothing was changed.",
                    take=take,
                    file=one.file,
                )
            )
    add_take_decision(
        conn, action=action, take=take, layout=text, zones=zones, author=author, reason=reason, made_at=made_at
    )
    folded = fold(conn, workspace.sources, [take], progress)
    if action == "again" and take in folded.faults:
        raise Refusal(
            told(
                "take {take} cannot be read so in its place: {why} Nothing was changed; where only what "
                "was taken since lets it be read, take it back and take the file once more.",
                take=take,
                why=folded.faults[take],
            )
        )
    return folded


def retake(
    workspace: Workspace,
    take: int,
    action: Literal["back", "again"],
    layout: Layout | None = None,
    *,
    author: str,
    reason: str,
    as_of: datetime,
    progress: Progress | None = None,
) -> Folded:
    """Do what `do_in` does for good, and put the files beside the store right; `Workspace.sources` must be held."""
    tidy(workspace)
    try:
        with workspace.store.writing() as conn:
            made_at = int(as_of.timestamp())
            folded = do_in(
                conn, workspace, take, action, layout, author=author, reason=reason, made_at=made_at, progress=progress
            )
            forget_refused_files(workspace, conn, folded.takes)
    finally:
        tidy(workspace)
    return folded
