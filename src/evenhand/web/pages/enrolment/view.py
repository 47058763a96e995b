"""What Enrolment day shows: a plan reader by reader, and coverage with what helps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from evenhand.jobs.day_seen import seen_of
from evenhand.jobs.enrolling import PlannedRound
from evenhand.jobs.queues import CoverageSeen
from evenhand.terms.languages import sentence, told

__all__ = ["CoverageLine", "PlanShown", "coverage", "plan"]

DO = {
    "enrol_supervisor": sentence("enrol as supervisor"),
    "enrol": sentence("enrol"),
    "enrol_again": sentence("enrol again"),
    "remove": sentence("take the number off"),
}


@dataclass(frozen=True)
class PlanShown:
    """A plan reader by reader, who is not in it, why and on which round, how good it is, and its name.

    The name is for exactly this plan; a round is '' where none is why.
    """

    readers: Sequence[tuple[str, Sequence[Mapping[str, Any]]]]
    left_out: Sequence[tuple[str, str, str]]
    enrolments: int
    minutes: int
    quality: str
    seen: str


@dataclass(frozen=True)
class CoverageLine:
    """A reader: how full, when full, whom it strands when it fails, and whom to enrol there so that nobody is."""

    reader: str
    held: int
    capacity: int | None
    full_on: Any
    full_earliest: Any
    stranded: Sequence[str]
    to_add: Sequence[tuple[str, str]]


def plan(planned: PlannedRound) -> PlanShown:
    """Return what is shown of a plan: what is still to do."""
    rows = [
        row | {"do": _does(planned, row), "zone": planned.zone_at(row["reader"])}
        for row in planned.items.sort("reader", "position").iter_rows(named=True)
        if row["item"] not in planned.over
    ]
    gap = planned.planned.gap
    left_out = [
        (
            "" if not row["person"] or planned.names_whom(row) else planned.names.get(row["person"], row["person"]),
            row["why"],
            row["round"] or "",
        )
        for row in planned.left_out.iter_rows(named=True)
    ]
    return PlanShown(
        [(reader, list(some)) for reader, some in groupby(rows, key=lambda row: str(row["reader"]))],
        left_out,
        planned.planned.plan.height,
        planned.planned.minutes,
        told("no plan calls people away for less")
        if planned.planned.is_optimal
        else told("at most {share:.1%} above the best", share=gap),
        seen_of(planned),
    )


def _does(planned: PlannedRound, row: Mapping[str, Any]) -> str:
    beside = planned.beside(row["reader"], row["person"]) if row["action"] != "remove" else []
    do = told(DO[row["action"]])
    do = told("{do}, in one visit with {names}", do=do, names="; ".join(beside)) if beside else do
    before = planned.done_before.get((row["reader"], row["number"]))
    return told("{do}; it was done on round {round} already", do=do, round=before) if before else do


def coverage(seen: CoverageSeen) -> Sequence[CoverageLine]:
    """Return the readers, each with whom it strands and whom to add."""
    stranded: dict[str, list[str]] = {}
    for row in seen.stranded.sort("reader", "person").iter_rows(named=True):
        stranded.setdefault(row["reader"], []).append(seen.names.get(row["person"], row["person"]))
    extra: dict[str, list[tuple[str, str]]] = {}
    for row in seen.covered.extra.sort("reader", "person").iter_rows(named=True):
        extra.setdefault(row["reader"], []).append((row["person"], seen.names.get(row["person"], row["person"])))
    return [
        CoverageLine(
            row["reader"],
            row["held"],
            row["capacity"],
            row["full_on"],
            row["full_earliest"],
            stranded.get(row["reader"], ()),
            extra.get(row["reader"], ()),
        )
        for row in seen.growth.iter_rows(named=True)
    ]
