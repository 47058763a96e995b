"""When a missing punch was: what each like day says of it, and how far apart these are.

Source: common practice, no source. A punch may keep to the clock (or the schedule), or to the time since or until
another punch of the day; of these the one in which the person's own days stray least is used.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenhand.law.proposals.days import MOST, Column, Days
from evenhand.law.proposals.likeness import Floats, Pairs
from evenhand.terms.zones import Offsets

__all__ = ["WITHIN", "Times", "times_of"]

WITHIN = 0.85
"""The share of what like days say that the interval is to hold."""

FEW = 4.0
"""How much wider the interval is to be for few like days: by this over their number."""

LEAST_S = 60.0


@dataclass(frozen=True)
class Times:
    """For each question: the time, the interval around it, how many like days it rests on, and by which habit.

    `habit`: 0 the clock, 1 since the punch before, 2 until the punch after, 3 since the first, 4 until the last.
    """

    at: Column
    low: Column
    high: Column
    habit: Column


def times_of(days: Days, pairs: Pairs, place: Column, question: Column, weight: Floats, local: Offsets) -> Times:
    """Return when the punch at `place` was, from pairs that stand together by `question`, counted from 0.

    `place` and `weight`, which is positive, are of each pair.
    """
    guesses = _guesses(days, pairs, place, local)
    questions = int(question.max(initial=-1)) + 1
    effective = np.bincount(question, weight) ** 2 / np.bincount(question, weight**2)
    found = []
    for habit, (guess, holds) in enumerate(guesses):
        low, middle, high = (_weighted(question, guess, weight, at) for at in ((1 - WITHIN) / 2, 0.5, (1 + WITHIN) / 2))
        possible = np.bincount(question, ~holds) == 0
        found.append((np.where(possible, high - low, np.inf), low, middle, high, np.full(questions, habit)))
    spread, low, middle, high, habit = (np.stack(of) for of in zip(*found, strict=True))
    best = np.argmin(spread, axis=0), np.arange(questions)
    wider = 1 + FEW / effective
    below, above = (wider * np.abs(bound[best] - middle[best]) + LEAST_S for bound in (low, high))
    count = np.minimum(days.count, MOST)
    first = np.unique(question, return_index=True)[1]
    asked, where = pairs.open_day[first], place[first]
    before = np.where(where > 0, days.at[asked, np.maximum(where - 1, 0)], np.iinfo(np.int64).min)
    after = np.where(where < count[asked], days.at[asked, np.minimum(where, MOST - 1)], np.iinfo(np.int64).max)
    at, since, until = (
        np.clip(np.rint(bound / 60).astype(np.int64) * 60, before, after)
        for bound in (middle[best], middle[best] - below, middle[best] + above)
    )
    return Times(at, since, until, habit[best])


def _guesses(days: Days, pairs: Pairs, place: Column, local: Offsets) -> list[tuple[Floats, Column]]:
    """Return what each pair says of the missing punch by each habit, and whether that habit can speak [s]."""
    row = np.arange(len(place))
    here, there = days.at[pairs.open_day], days.at[pairs.whole_day]
    last_here, last_there = days.count[pairs.open_day] - 1, days.count[pairs.whole_day] - 1
    sought = there[row, place]

    def beside(mine: Column, theirs: Column) -> Floats:
        return here[row, mine] + (sought - there[row, theirs]).astype(np.float64)

    nothing = np.zeros_like(place)
    return [
        (local.from_local(pairs.like[row, place])[0].astype(np.float64), place >= 0),
        (beside(np.maximum(place - 1, 0), np.maximum(place - 1, 0)), place > 0),
        (beside(np.minimum(place, last_here), np.minimum(place + 1, last_there)), place <= last_here),
        (beside(nothing, nothing), place > 1),
        (beside(last_here, last_there), place < last_here),
    ]


def _weighted(question: Column, value: Floats, weight: Floats, share: float) -> Floats:
    """Return for each question the value below which that share of the weight lies, linear between values."""
    order = np.lexsort((value, question))
    owner, sorted_value, sorted_weight = question[order], value[order], weight[order]
    first = np.unique(owner, return_index=True)[1]
    last = np.append(first[1:], len(owner)) - 1
    total = np.bincount(owner, sorted_weight)
    running = np.cumsum(sorted_weight)
    before = running[first] - sorted_weight[first]
    middle = (running - before[owner] - sorted_weight / 2) / total[owner]
    asked = np.clip(share, middle[first], middle[last])
    found: Floats = np.interp(2 * np.arange(len(first)) + asked, 2 * owner + middle, sorted_value)
    return found
