"""When each person can be called away, and what that costs: shifts, critical tasks, releases."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from evenhand.enrolment.tables import COSTS, LEFT_OUT
from evenhand.terms.columns import Frame

__all__ = ["Away", "when_away"]


@dataclass(frozen=True)
class Away:
    """What calling people away costs (COSTS), and who must not be enrolled at all (LEFT_OUT)."""

    costs: Frame
    left_out: Frame


def when_away(
    people: Frame,
    schedules: Frame,
    demands: Frame,
    *,
    withheld: Mapping[str, str],
    starts: Sequence[int],
    length_s: int,
) -> Away:
    """Return the slots in which each of `people` (PEOPLE) can be called away, with the weighted minutes.

    A slot begins at each of `starts` [s since 1970-01-01T00:00:00Z]. A person can come in a slot that lies whole
    within a shift (SCHEDULES) and touches no span that forbids it (DEMANDS); somebody without any schedule can come
    at any time. A minute counts 1, or the highest weight of the demands on it. Those in
    `withheld`, which says why, have no slot at all: no hand is enrolled without a release in force.
    """
    shifts: dict[str, list[tuple[int, int]]] = {}
    for person, begins, ends in schedules.select("person", "starts_at", "ends_at").iter_rows():
        shifts.setdefault(person, []).append((begins, ends))
    asked = demands.to_dicts()
    costs: list[dict[str, Any]] = []
    without: list[dict[str, Any]] = []
    for person, department in people.select("person", "department").sort("person").iter_rows():
        if person in withheld:
            without.append({"person": person, "why": withheld[person]})
            continue
        binding = [row for row in asked if _binds(row, person, department)]
        for slot, begin in enumerate(starts):
            span = (begin, begin + length_s)
            if person in shifts and not any(begins <= span[0] and span[1] <= ends for begins, ends in shifts[person]):
                continue
            minutes = _minutes(span, binding)
            if minutes is not None:
                costs.append({"person": person, "slot": slot, "minutes": minutes})
    return Away(COSTS.rows(costs), LEFT_OUT.rows(without))


def _binds(demand: dict[str, Any], person: str, department: str | None) -> bool:
    if demand["person"] is not None:
        return bool(demand["person"] == person)
    return demand["department"] is None or bool(demand["department"] == department)


def _minutes(span: tuple[int, int], demands: list[dict[str, Any]]) -> int | None:
    """Return the weighted minutes of a slot, rounded up; None where a demand forbids it."""
    touching = [row for row in demands if row["starts_at"] < span[1] and span[0] < row["ends_at"]]
    if any(row["weight"] is None for row in touching):
        return None
    edges = sorted(
        {*span, *(min(max(at, span[0]), span[1]) for row in touching for at in (row["starts_at"], row["ends_at"]))}
    )
    seconds = 0
    for begin, end in pairwise(edges):
        weights = [row["weight"] for row in touching if row["starts_at"] <= begin and end <= row["ends_at"]]
        seconds += (end - begin) * max(weights, default=1)
    return math.ceil(seconds / 60)
