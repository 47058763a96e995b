"""When a missing punch was: what each like day says of it, and how far apart these are.

Source: common practice, no source. A punch may keep to the clock (or the schedule), or to the time since or until
another punch of the day; of these the one in which the person's own days stray least is used.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenhand.law.proposals.days import Column, Days
from evenhand.law.proposals.likeness import Floats, LikeDays, Mask
from evenhand.terms.zones import Offsets

__all__ = ["WITHIN", "ProposedTimes", "times_of"]

WITHIN = 0.85
"""The share of what like days say that the interval is to hold."""

FEW = 3.0
"""How much wider the interval is to be for few like days: by this over their number."""

HABITS = np.array([1.0, 1.25, 1.25, 1.25, 1.25])
"""How much less another habit than the clock is to stray to be taken: of several, the least looks better than it is."""

LEAST_S = 60.0
LONG_S = 2.0**34
"""Longer than all times that are compared lie apart [s]."""


@dataclass(frozen=True)
class ProposedTimes:
    """For each question: the time, the interval around it, how many like days it rests on, and by which habit.

    `habit`: 0 the clock, 1 since the punch before, 2 until the punch after, 3 since the first, 4 until the last.
    """

    at: Column
    low: Column
    high: Column
    habit: Column


def times_of(
    days: Days, pairs: LikeDays, place: Column, question: Column, weight: Floats, local: Offsets, wide: Floats
) -> ProposedTimes:
    """Return when the punch at `place` was, from pairs that stand together by `question`, counted from 0.

    `place` and `weight`, which is positive, are of each pair; `wide` is by how much more than else the interval of each
    question is to be stretched.
    """
    guesses = _guesses(days, pairs, place, local)
    questions = int(question.max(initial=-1)) + 1
    effective = np.bincount(question, weight) ** 2 / np.bincount(question, weight**2)
    found = []
    for number, (guess, holds) in enumerate(guesses):
        low, middle, high = _quantiles(question, guess, weight)
        possible = np.bincount(question, ~holds) == 0
        found.append((np.where(possible, high - low, np.inf), low, middle, high, np.full(questions, number)))
    spread, low, middle, high, habit = (np.stack(of) for of in zip(*found, strict=True))
    best = np.argmin(spread * HABITS[:, None], axis=0), np.arange(questions)
    wider = wide * (1 + FEW / effective)
    below, above = (wider * np.abs(bound[best] - middle[best]) + LEAST_S for bound in (low, high))
    first = np.unique(question, return_index=True)[1]
    asked, where = pairs.open_day[first], place[first]
    before = np.where(where > 0, days.at[asked, np.maximum(where - 1, 0)], np.iinfo(np.int64).min)
    after = np.where(
        where < days.count[asked], days.at[asked, np.minimum(where, days.width - 1)], np.iinfo(np.int64).max
    )
    at, since, until = (
        np.clip(np.rint(bound / 60).astype(np.int64) * 60, before, after)
        for bound in (middle[best], middle[best] - below, middle[best] + above)
    )
    return ProposedTimes(at, since, until, habit[best])


def _guesses(days: Days, pairs: LikeDays, place: Column, local: Offsets) -> list[tuple[Floats, Mask]]:
    """Return what each pair says of the missing punch by each habit, and whether that habit can speak [s]."""
    row = np.arange(len(place))
    here, there = days.at[pairs.open_day], days.at[pairs.whole_day]
    last_here, last_there = days.count[pairs.open_day] - 1, days.count[pairs.whole_day] - 1
    sought = there[row, place]

    def beside(mine: Column, theirs: Column) -> Floats:
        guess: Floats = (here[row, mine] + sought - there[row, theirs]).astype(np.float64)
        return guess

    nothing = np.zeros_like(place)
    return [
        (local.from_local(pairs.like[row, place])[0].astype(np.float64), place >= 0),
        (beside(np.maximum(place - 1, 0), np.maximum(place - 1, 0)), place > 0),
        (beside(np.minimum(place, last_here), np.minimum(place + 1, last_there)), place <= last_here),
        (beside(nothing, nothing), place > 1),
        (beside(last_here, last_there), place < last_here),
    ]


def _quantiles(question: Column, value: Floats, weight: Floats) -> tuple[Floats, Floats, Floats]:
    """Return for each question the values that leave half of what `WITHIN` leaves below, and above, and the median.

    A day whose weight lies wholly in what is left does not move them, however wild it is.
    """
    order = np.argsort(question * LONG_S + (value - value.min()))  # in place of two keys, which sort slower
    owner, ordered, parts = question[order], value[order], weight[order]
    first = np.unique(owner, return_index=True)[1]
    until = np.cumsum(parts)
    until = (until - (until[first] - parts[first])[owner]) / np.bincount(owner, parts)[owner]
    last = np.append(first[1:], len(owner)) - 1
    left, questions = (1 - WITHIN) / 2, np.arange(len(first))

    def at(share: float) -> Floats:
        # Questions lie two apart, so that one search serves all; sums of weights end a hair beside 1.
        found: Floats = ordered[np.clip(np.searchsorted(2 * owner + until, 2 * questions + share), first, last)]
        return found

    return at(left + 1e-9), (at(0.5 - 1e-9) + at(0.5 + 1e-9)) / 2, at(1 - left - 1e-9)
