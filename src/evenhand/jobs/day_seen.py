"""An enrolment day as a page shows it: planned, changed and kept as it was shown; and what punches prove after it."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

import polars as pl

from evenhand.jobs.enrolling import PlannedRound, plan_round
from evenhand.jobs.enrolment_day import AskedDay
from evenhand.jobs.planned_anew import change_round
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.rounds import list_rounds, prove_now, prove_rounds
from evenhand.jobs.workspace import Workspace
from evenhand.terms.languages import told
from evenhand.terms.rounds import PROVED
from evenhand.terms.tables import PUNCH_SHIFT

__all__ = [
    "ProofLine",
    "RoundProof",
    "change_day",
    "look_at_change",
    "look_at_day",
    "plan_as_shown",
    "prove_rounds_now",
    "proved_by_take",
    "seen_of",
]

SECONDS = 4.0
"""How long a page looks for a better plan."""
DONE = ("proved", "quiet")
NOBODY = "nobody yet"
RECENT_ROUNDS = timedelta(weeks=4)
"""For so long after its day a round is looked at for what a file proves of it."""


@dataclass(frozen=True)
class ProofLine:
    """Something that was done and is not proved, or that the punches say is wrong: what to look at."""

    reader: str
    person: str
    name: str
    number: str
    says: str
    at: int | None


@dataclass(frozen=True)
class RoundProof:
    """A round with how many of its enrolments are proved, how many are not yet, and what is to be looked at."""

    round: str
    title: str
    day: Any
    proved: int
    unproved: int
    lines: tuple[ProofLine, ...]


def seen_of(planned: PlannedRound) -> str:
    """Return a name for exactly this plan, so that nothing else is kept than what was shown."""
    told = planned.items.drop("round", "item").rows(), planned.left_out.rows()
    return hashlib.sha256(repr(told).encode()).hexdigest()[:32]


def look_at_day(workspace: Workspace, asked: AskedDay, *, as_of: datetime) -> PlannedRound:
    """Return the plan of a day, keeping nothing; raises Refusal as `plan_round` does."""
    return plan_round(workspace, asked, author=NOBODY, as_of=as_of, seconds=SECONDS, keep=False)


def plan_as_shown(workspace: Workspace, asked: AskedDay, *, seen: str, author: str, as_of: datetime) -> PlannedRound:
    """Keep the plan of a day as a round; raises NotAsSeen, keeping nothing, where it is another than what was shown.

    Raises Refusal where nobody and nothing is in it.
    """
    return plan_round(
        workspace, asked, author=author, as_of=as_of, seconds=SECONDS, is_as_seen=lambda made: seen_of(made) == seen
    )


def look_at_change(workspace: Workspace, name: str, absent: Collection[str], *, as_of: datetime) -> PlannedRound:
    """Return the rest of a round planned again without whoever is absent, moving nothing."""
    return change_round(workspace, name, absent=absent, author=NOBODY, as_of=as_of, seconds=SECONDS, keep=False)


def change_day(
    workspace: Workspace, name: str, absent: Collection[str], *, seen: str, author: str, as_of: datetime
) -> PlannedRound:
    """Move the rest of a round as it was shown; raises NotAsSeen, moving nothing, where it would be another."""
    return change_round(
        workspace,
        name,
        absent=absent,
        author=author,
        as_of=as_of,
        seconds=SECONDS,
        is_as_seen=lambda made: seen_of(made) == seen,
    )


def _proof_in_words(kind: str, other: str | None) -> str:
    return told("{says} ({number})", says=told(PROVED[kind]), number=other) if other else told(PROVED[kind])


def proved_by_take(reckoning: Reckoning, take: int) -> list[tuple[str, str]]:
    """Return whose enrolment the punches of a take prove, and at which reader: those with the first one accepted."""
    of = reckoning.snapshot
    brought = (
        of.recorded.filter(pl.col("punch") // (1 << PUNCH_SHIFT) == take).select("reader", "number", "at").unique()
    )
    if brought.is_empty():
        return []
    proof = prove_rounds(of, since=reckoning.day - RECENT_ROUNDS).filter(pl.col("kind") == "proved")
    proved = proof.join(brought, on=["reader", "number", "at"], how="semi").unique(["person", "reader"])
    whose = proved.select("person", "number", "reader").sort("reader", "number").iter_rows()
    return [(of.names.get(person or "", number), reader) for person, number, reader in whose]


def prove_rounds_now(reckoning: Reckoning, workspace: Workspace, as_of: datetime) -> Sequence[RoundProof]:
    """Return what the punches prove of each round, the latest first; rounds of which nothing was done are left out."""
    rounds = list_rounds(workspace)
    if rounds.is_empty():
        return ()
    proof = prove_now(workspace, as_of=as_of)
    items = reckoning.snapshot.round_items
    names = reckoning.snapshot.names
    found = []
    for header in rounds.iter_rows(named=True):
        mine = proof.join(items.filter(pl.col("round") == header["round"]), on="item", how="semi")
        if mine.is_empty():
            continue
        lines = tuple(
            ProofLine(
                row["reader"],
                row["person"] or "",
                names.get(row["person"] or "", ""),
                row["number"],
                row["says"] or _proof_in_words(row["kind"], row["other"]),
                row["at"],
            )
            for row in mine.filter(~pl.col("kind").is_in(DONE)).sort("reader", "number").iter_rows(named=True)
        )
        kinds = mine["kind"].to_list()
        unproved = sum(kind in ("unproved", "refused_only") for kind in kinds)
        found.append(
            RoundProof(header["round"], header["title"], header["day"], kinds.count("proved"), unproved, lines)
        )
    return found
