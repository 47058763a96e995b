"""Each turn of a round as the desk sees it: who, when, by whom, what came of it and why, and what proves it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import polars as pl

from evenhand.enrolment.taking_off import HeldBack
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.rounds import RoundSeen, prove_rounds
from evenhand.jobs.taking_off import taking_off

__all__ = ["Tapped", "TurnSeen", "see_turns"]


@dataclass(frozen=True)
class Tapped:
    """One outcome as it was tapped: what, when by the phone's clock, by whom, and why."""

    result: str
    at: int
    author: str
    reason: str
    other_way: str
    presentations: int | None


@dataclass(frozen=True)
class TurnSeen:
    """One turn: its item, what was tapped (the last one last), why it waits, and what the punches prove.

    `result` is what came of it last, empty while nothing has or once it is put back. `proof` has the kinds of PROOF,
    with the punch's time, the other number and what the scores say; `is_at_risk` where a number was taken off before
    its owner was seen under their own, or another's hand enrolled where theirs stood, so that none may work for them
    now. `beside` names who must be there too, where turns are done in one visit.
    """

    item: str
    reader: str
    position: int
    action: str
    number: str
    person: str
    name: str
    result: str
    tapped: tuple[Tapped, ...]
    held: HeldBack | None
    proof: tuple[Mapping[str, Any], ...]
    is_at_risk: bool
    beside: str


def see_turns(reckoning: Reckoning, seen: RoundSeen) -> list[TurnSeen]:
    """Return every turn of a round, by reader and position."""
    of = reckoning.snapshot
    off = taking_off(reckoning, seen.states)
    outcomes = of.outcomes.join(seen.states, on="item", how="semi").sort("made_at", "outcome")
    tapped: dict[str, list[Tapped]] = {}
    for row in outcomes.iter_rows(named=True):
        tapped.setdefault(row["item"], []).append(
            Tapped(
                result=row["result"],
                at=row["made_at"],
                author=row["author"],
                reason=row["reason"] or "",
                other_way=row["other_way"] or "",
                presentations=row["presentations"],
            )
        )
    proof: dict[str, list[Mapping[str, Any]]] = {}
    for row in prove_rounds(of, seen.header["round"]).filter(pl.col("item").is_not_null()).iter_rows(named=True):
        proof.setdefault(row["item"], []).append(row)
    return [
        TurnSeen(
            item=row["item"],
            reader=row["reader"],
            position=row["position"],
            action=row["action"],
            number=row["number"],
            person=row["person"] or "",
            name=row["name"] or "",
            result=row["result"] or "",
            tapped=tuple(tapped.get(row["item"], ())),
            held=off.held.get(row["item"]),
            proof=tuple(proof.get(row["item"], ())),
            is_at_risk=row["item"] in off.too_soon | off.begun,
            beside=off.beside(row["item"]),
        )
        for row in seen.states.iter_rows(named=True)
    ]
