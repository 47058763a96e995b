"""When a missing punch may have been: a proposal from the person's own habits and schedule, never applied.

Source: common practice, no source; 29 CFR 516.2(a)(7) wants the hours that were worked, which only the person knows.
Where the person was scheduled, past punches of that way are compared with the schedule they belonged to; else past
shifts are compared by how long they were, and by the clock. Of these habits the one that strays least is used.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import polars as pl

from evenhand.law.spans import Column
from evenhand.terms.columns import Frame
from evenhand.terms.tables import PROPOSALS
from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["propose_punches"]

CLOSE_S = 15 * 60
NEAR_S = 4 * 3600
FEWEST = 3
"""A habit is a habit from three past punches on."""

WAYS = {"missing_in": "start", "missing_out": "end"}


@dataclass(frozen=True)
class _Shifts:
    """One person's whole shifts: first and last paid instants, by time."""

    starts: Column
    ends: Column


@dataclass(frozen=True)
class _Habit:
    """Past punches as seconds from a guess: to be added to `guess`, with the words for what they rest on."""

    guess: int
    strays: Column
    rests_on: str


def propose_punches(questions: Frame, classed: Frame, schedules: Frame, zone: str) -> Frame:
    """Return a proposal (PROPOSALS) for each missing punch in `questions` (QUESTIONS) that a habit speaks to.

    `classed` (CLASSED) and `schedules` (SCHEDULES) should reach some weeks back; `zone` is where the clock is read.
    Questions without at least three past punches to go by get none.
    """
    missing = questions.filter(pl.col("kind").is_in(list(WAYS)))
    asked_at = set(questions.select("person", "at").iter_rows())
    rows = []
    for (person,), asked in missing.partition_by("person", as_dict=True).items():
        shifts = _shifts(classed.filter(pl.col("person") == person), {at for who, at in asked_at if who == person})
        planned = schedules.filter(pl.col("person") == person).sort("starts_at")
        for row in asked.iter_rows(named=True):
            habits = list(_habits(row, shifts, planned, zone))
            if habits:
                rows.append(_proposal(row, min(habits, key=_spread)))
    return PROPOSALS.rows(rows)


def _shifts(classed: Frame, asked_at: set[int]) -> _Shifts:
    """Return the shifts of one person that no question touches."""
    whole = classed.group_by("shift").agg(pl.col("starts").min(), pl.col("ends").max()).sort("starts")
    clear = [
        not any(s - NEAR_S <= at <= e + NEAR_S for at in asked_at) for s, e in whole.select("starts", "ends").rows()
    ]
    whole = whole.filter(pl.Series(clear, dtype=pl.Boolean))
    return _Shifts(whole["starts"].to_numpy(), whole["ends"].to_numpy())


def _habits(row: dict[str, Any], shifts: _Shifts, planned: Frame, zone: str) -> Iterator[_Habit]:
    """Yield what the person's past says about the missing punch, from whatever there is at least three times."""
    at, is_end = int(row["at"]), row["kind"] == "missing_out"
    known, sought = (shifts.starts, shifts.ends) if is_end else (shifts.ends, shifts.starts)
    if len(sought) < FEWEST:
        return
    yield _Habit(at, sought - known, f"how long the person's last {len(sought)} shifts were")
    offsets = offsets_of(zone)
    local = offsets.to_local(np.array([at]))[0]
    like = np.abs((offsets.to_local(known) - local + DAY_S // 2) % DAY_S - DAY_S // 2) <= NEAR_S // 2
    if like.sum() >= FEWEST:
        clock = offsets.to_local(sought[like]) - (offsets.to_local(known[like]) - offsets.to_local(known[like]) % DAY_S)
        midnight = local - local % DAY_S
        guess = int(offsets.from_local(np.array([midnight + int(np.median(clock))]))[0][0])
        rests = f"when the clock showed {int(like.sum())} of the person's past {WAYS[row['kind']]}s"
        yield _Habit(guess, clock - int(np.median(clock)), rests)
    begins, finishes = planned["starts_at"].to_numpy(), planned["ends_at"].to_numpy()
    if len(begins):
        bound, other = (finishes, begins) if is_end else (begins, finishes)
        mine = int(np.argmin(np.abs(other - at)))
        if abs(int(other[mine]) - at) <= NEAR_S:
            nearest = np.argmin(np.abs(sought[:, None] - bound[None, :]), axis=1)
            strays = sought - bound[nearest]
            strays = strays[np.abs(strays) <= NEAR_S]
            if len(strays) >= FEWEST:
                rests = f"the scheduled {WAYS[row['kind']]} and how {len(strays)} past ones compare with theirs"
                yield _Habit(int(bound[mine]), strays, rests)


def _spread(habit: _Habit) -> float:
    low, high = np.quantile(habit.strays, [0.1, 0.9])
    # Few past punches look closer together than they are.
    return float(high - low) * (1 + 2 / len(habit.strays))


def _proposal(row: dict[str, Any], habit: _Habit) -> dict[str, Any]:
    low, middle, high = (round(float(stray) / 60) * 60 for stray in np.quantile(habit.strays, [0.1, 0.5, 0.9]))
    proposed = habit.guess + middle
    # The proposal lies on the missing side of the punch that stands alone.
    is_end = row["kind"] == "missing_out"
    proposed = max(proposed, row["at"]) if is_end else min(proposed, row["at"])
    close = int(np.sum(np.abs(habit.strays - middle) <= CLOSE_S))
    return {
        "person": row["person"],
        "kind": row["kind"],
        "punch": row["punch"],
        "at": proposed,
        "low": min(habit.guess + low, proposed),
        "high": max(habit.guess + high, proposed),
        # Laplace's rule of succession: from few punches nothing is certain.
        "likely": (close + 1) / (len(habit.strays) + 2),
        "seen": len(habit.strays),
        "says": f"from {habit.rests_on}: {close} of {len(habit.strays)} within 15 minutes",
    }
