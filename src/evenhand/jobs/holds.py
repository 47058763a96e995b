"""Legal holds: a suit, a charge or an audit stops the disposal of somebody's time records until it is lifted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import polars as pl

from evenhand.jobs.snapshot import take_snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.store.erasing import add_hold
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.retention import HOLDS
from evenhand.terms.words import called

__all__ = ["HOLDS_NO_HAND", "HoldListed", "decide_hold", "holds_of", "list_holds", "standing_holds"]

HOLDS_NO_HAND = told(
    "A hold stops the disposal of time records. It does not by itself allow keeping a hand: whether a hand is evidence "
    "is for counsel to say."
)


@dataclass(frozen=True)
class HoldListed:
    """The last word on one hold, placed for one `matter`: whether it is lifted, by whom, when and why."""

    hold: int
    person: str
    name: str
    is_lifted: bool
    author: str
    reason: str
    made_at: int
    matter: str


def standing_holds(holds: Frame) -> Frame:
    """Return the rows of `holds` (HOLDS) that place a hold which stands.

    A row of before, which lifts none by its number, lifts all that its person was under.
    """
    lifted = holds.filter("is_lifted")
    by_number = lifted["lifts"].drop_nulls().to_list()
    at_once = lifted.filter(pl.col("lifts").is_null()).group_by("person").agg(at_once=pl.col("hold").max())
    placed = holds.filter(~pl.col("is_lifted"), ~pl.col("hold").is_in(by_number)).join(at_once, on="person", how="left")
    stands = pl.col("at_once").is_null() | (pl.col("hold") > pl.col("at_once"))
    return HOLDS.check(placed.filter(stands).drop("at_once").sort("hold"))


def holds_of(holds: Frame, person: str) -> list[tuple[int, str]]:
    """Return the holds (HOLDS) that a person is under, each with its matter, in the order they were placed."""
    stands = standing_holds(holds).filter(pl.col("person") == person)
    return list(stands.select("hold", "reason").iter_rows())


def list_holds(workspace: Workspace) -> list[HoldListed]:
    """Return every hold with the last word on it, those that stand first."""
    with workspace.store.reading() as conn:
        holds, people = frames.holds(conn), frames.people(conn)
    names = dict(people.select("person", "name").iter_rows())
    stands = set(standing_holds(holds)["hold"])
    rows = holds.sort("hold").rows(named=True)
    found = []
    for placed in (row for row in rows if not row["is_lifted"]):
        last = placed if placed["hold"] in stands else next(row for row in rows if _lifts(row, placed))
        said = {name: last[name] for name in ("author", "reason", "made_at", "is_lifted")}
        who = placed["person"]
        found.append(HoldListed(placed["hold"], who, names.get(who, ""), **said, matter=placed["reason"]))
    return sorted(found, key=lambda one: (one.is_lifted, one.hold))


def _lifts(row: dict[str, Any], placed: dict[str, Any]) -> bool:
    """Whether a row (HOLDS) lifts the hold that another placed."""
    if row["lifts"] is not None or not row["is_lifted"]:
        return bool(row["lifts"] == placed["hold"])
    return bool(row["person"] == placed["person"] and row["hold"] > placed["hold"])


def decide_hold(
    workspace: Workspace,
    person: str,
    *,
    is_lifted: bool,
    author: str,
    reason: str,
    as_of: datetime,
    hold: int | None = None,
) -> HoldListed:
    """Place a hold on somebody's time records for one matter, or lift one, which `hold` names where several stand.

    Raises Refusal where they are under a hold for the matter already, under none, or under several and none is named.
    """
    if not author.strip() or not reason.strip():
        raise Refusal(told("a hold is placed or lifted by somebody, for a reason; give a name and the reason."))
    row = take_snapshot(workspace, as_of.date()).find_person(person)
    who, by, said, made_at = str(row["person"]), author.strip(), reason.strip(), int(as_of.timestamp())
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        standing = dict(holds_of(frames.holds(conn), who))
        lifted = (hold or next(iter(standing), 0)) if is_lifted else None
        if why := _refused_lift(standing, hold) if is_lifted else _refused_place(standing, said):
            raise Refusal(told("{name} {why}; nothing was changed.", name=called(row["name"], who), why=why))
        number = add_hold(conn, person=who, is_lifted=is_lifted, lifts=lifted, author=by, reason=said, made_at=made_at)
    matter = said if lifted is None else standing[lifted]
    return HoldListed(lifted or number, who, str(row["name"]), is_lifted, by, said, made_at, matter)


def _refused_place(standing: Mapping[int, str], matter: str) -> str:
    """Return why no hold is placed for a matter; empty where one may be."""
    same = [number for number, other in standing.items() if other.casefold() == matter.casefold()]
    return told("is under a hold for this already, hold {number}; name another matter", number=same[0]) if same else ""


def _refused_lift(standing: Mapping[int, str], hold: int | None) -> str:
    """Return why a hold, or the one that stands, is not lifted; empty where it may be."""
    holds = [told("hold {number} ({matter})", number=number, matter=matter) for number, matter in standing.items()]
    if not standing:
        return told("is under no hold")
    if hold is None:
        several = told("is under several holds: {holds:listed}; say which", holds=holds)
        return several if len(standing) > 1 else ""
    if hold in standing:
        return ""
    return told("is not under hold {number}, but under {holds:listed}; name one of these", number=hold, holds=holds)
