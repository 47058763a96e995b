"""Legal holds: a suit, a charge or an audit stops the disposal of somebody's time records until it is lifted."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import polars as pl

from evenhand.jobs.snapshot import take_snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.erasing import add_hold
from evenhand.terms.records import Refusal
from evenhand.terms.words import called

__all__ = ["HOLDS_NO_HAND", "HoldListed", "decide_hold", "list_holds"]

HOLDS_NO_HAND = (
    "A hold stops the disposal of time records. It does not by itself allow keeping a hand: whether a hand is evidence "
    "is for counsel to say."
)


@dataclass(frozen=True)
class HoldListed:
    """The last word on somebody's hold: whether it is lifted, by whom, when and why."""

    hold: int
    person: str
    name: str
    is_lifted: bool
    author: str
    reason: str
    made_at: int


def list_holds(workspace: Workspace) -> list[HoldListed]:
    """Return the last word on each person who was ever under a hold, those that stand first."""
    with workspace.store.reading() as conn:
        holds, people = frames.holds(conn), frames.people(conn)
    names = dict(people.select("person", "name").iter_rows())
    last = holds.sort("hold").unique("person", keep="last").sort("is_lifted", "hold")
    return [HoldListed(**row, name=names.get(row["person"], "")) for row in last.iter_rows(named=True)]


def decide_hold(
    workspace: Workspace, person: str, *, is_lifted: bool, author: str, reason: str, as_of: datetime
) -> HoldListed:
    """Place a hold on somebody's time records, or lift it; raises Refusal where it stands like that already."""
    if not author.strip() or not reason.strip():
        raise Refusal("a hold is placed or lifted by somebody, for a reason; give --author and --reason.")
    row = take_snapshot(workspace, as_of.date()).find_person(person)
    who = str(row["person"])
    with workspace.store.writing() as conn:
        before = frames.holds(conn).filter(pl.col("person") == who)
        stands = not before.is_empty() and not before["is_lifted"][-1]
        if stands != is_lifted:
            said = f"is under a hold already: {before['reason'][-1]}" if stands else "is under no hold"
            raise Refusal(f"{called(row['name'], who)} {said}; nothing was changed.")
        made_at = int(as_of.timestamp())
        number = add_hold(
            conn, person=who, is_lifted=is_lifted, author=author.strip(), reason=reason.strip(), made_at=made_at
        )
    return HoldListed(number, who, str(row["name"]), is_lifted, author.strip(), reason.strip(), made_at)
