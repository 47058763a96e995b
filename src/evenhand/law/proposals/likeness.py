"""How like a day with something open is to the person's whole days, under each account of what is wrong with it.

Source: common practice, no source; a kernel estimate over past days (Parzen 1962) with Student's t as the kernel, whose
tails keep a wild day from deciding. Each whole day says how likely the punches of the open day are if one of its own
is missing at some place, if one of those there is too many, or if nothing but marks is wrong.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
import numpy.typing as npt

from evenhand.law.codes import IN, OUT, UNMARKED
from evenhand.law.proposals.days import Column, Days
from evenhand.terms.zones import DAY_S

__all__ = ["Floats", "LikeDays", "Mask", "likeness_of", "pair_days"]

Floats = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]

HOUR_S = 3600
LEAST_S, MOST_S = 150.0, 900.0
"""How far a punch strays from day to day at least and at most, whoever it is [s]."""

EXTRA, MARKS = 0.25, 0.1
"""How often a day with something open has a punch too many, or wrong marks alone, to one that lacks a punch."""

WRONG_MARK = 0.005
STRANGE = 0.02
"""How often the day is like no other: its punches lie anywhere within half a day."""

PLANNED_S = 1800.0
"""How much longer or shorter a planned shift may be and be compared in full [s]."""


@dataclass(frozen=True)
class LikeDays:
    """Each open day beside each whole day of the same person: their rows, the whole one moved to the open one's clock.

    Only days whose numbers of punches differ by one, or not at all, stand beside each other. `like` is when the whole
    day's punches would be on the open day's clock [s]; `stray_s` how far the person strays; `usual` how many whole days
    they have; `weight` what the schedule says of comparing the two [log].
    """

    open_day: Column
    whole_day: Column
    like: Column
    stray_s: Floats
    usual: Column
    weight: Floats

    def some(self, rows: Column | Mask) -> LikeDays:
        """Return some of the pairs."""
        return LikeDays(*(getattr(self, field.name)[rows] for field in fields(self)))


def pair_days(days: Days, open_days: Column) -> tuple[LikeDays, Column]:
    """Return the open days (rows of `days`) beside the whole days of the same people that are not open.

    With them comes how many whole days there are beside each open day.
    """
    whole = days.is_whole()
    whole[open_days] = False
    rows = np.flatnonzero(whole)
    stray = _strays(days, rows)
    low, high = (np.searchsorted(days.person[rows], days.person[open_days], side=side) for side in ("left", "right"))
    usual = high - low
    mine = np.repeat(np.arange(len(open_days)), usual)
    theirs = rows[np.arange(len(mine)) - np.repeat(np.cumsum(usual) - usual, usual) + low[mine]]
    near = np.abs(days.count[open_days[mine]] - days.count[theirs]) <= 1
    asked, theirs, mine = open_days[mine][near], theirs[near], mine[near]
    like, weight = _moved(days, asked, theirs)
    return LikeDays(asked, theirs, like, stray[days.person[asked]], usual[mine], weight), usual


def _strays(days: Days, rows: Column) -> Floats:
    """Return for each person how far punches lie from those of their whole day before with as many [s]."""
    people = int(days.person.max(initial=-1)) + 1
    order = rows[np.lexsort((rows, days.count[rows], days.person[rows]))]
    before, after = order[:-1], order[1:]
    same = (days.person[before] == days.person[after]) & (days.count[before] == days.count[after])
    before, after = before[same], after[same]
    apart = np.abs((days.civil[after] - days.civil[before] + DAY_S // 2) % DAY_S - DAY_S // 2).astype(np.float64)
    apart[np.arange(days.width) >= days.count[after][:, None]] = np.nan
    owner, flat = np.repeat(days.person[after], days.width), apart.ravel()
    owner, flat = owner[~np.isnan(flat)], flat[~np.isnan(flat)]
    order = np.argsort(owner * float(DAY_S) + flat)
    owner, flat = owner[order], flat[order]
    low, high = (np.searchsorted(owner, np.arange(people), side=side) for side in ("left", "right"))
    stray = np.full(people, MOST_S)
    known = high > low
    stray[known] = flat[((low + high) // 2)[known]]
    # The median distance of two draws is about that of one from its middle, times the root of two.
    return np.clip(stray / 1.4, LEAST_S, MOST_S)


def _moved(days: Days, asked: Column, theirs: Column) -> tuple[Column, Floats]:
    """Return whole days' punches on the open days' clocks, and what the schedule says of comparing the two [log]."""
    x, t = days.civil[asked], days.civil[theirs]
    last_x = x[np.arange(len(x)), days.count[asked] - 1]
    last_t = t[np.arange(len(t)), days.count[theirs] - 1]
    by_first, by_last = ((a - b + DAY_S // 2) // DAY_S * DAY_S for a, b in ((x[:, 0], t[:, 0]), (last_x, last_t)))
    first_is_nearer = np.abs(x[:, 0] - t[:, 0] - by_first) <= np.abs(last_x - last_t - by_last)
    moved = np.where(first_is_nearer, by_first, by_last)[:, None] * np.ones(days.width, np.int64)
    weight = np.zeros(len(asked))
    here, there = days.planned[asked], days.planned[theirs]
    both = np.all(here > 0, axis=1) & np.all(there > 0, axis=1)
    by_start, by_end = (here - there).T
    at_end = np.arange(days.width) == days.count[theirs][:, None] - 1
    moved = np.where(both[:, None], np.where(at_end, by_end[:, None], by_start[:, None]), moved)
    weight[both] = -1.5 * np.log1p(((by_end - by_start)[both] / PLANNED_S) ** 2 / 2)
    return t + moved, weight


def likeness_of(days: Days, pairs: LikeDays) -> Floats:
    """Return how likely the open day is beside each whole day, under each account of what is wrong with it [log].

    A column for each place at which a punch may be missing, then for each that may be one too many, then for marks.
    """
    found = np.full((len(pairs.open_day), 2 * (days.width + 1) + 1), -np.inf)
    more = days.count[pairs.whole_day] - days.count[pairs.open_day]
    places = np.arange(days.width + 1)
    for by, first, by_place in ((1, 0, 0), (-1, days.width + 1, 1), (0, None, 0)):
        rows = np.flatnonzero(more == by)
        compared = _Compared(days, pairs.some(rows))
        if first is None:
            found[rows, -1] = compared.marks()
        else:
            told = compared.with_one(missing=by == 1)
            possible = places <= days.count[pairs.open_day[rows]][:, None] - by_place
            found[rows, first : first + len(places)] = np.where(possible, told, -np.inf)
    return found


class _Compared:
    """The punches of open days, and how far they lie from those of the whole days beside them."""

    def __init__(self, days: Days, pairs: LikeDays) -> None:
        self.x, self.pairs = days.civil[pairs.open_day], pairs
        self.count, self.whole = days.count[pairs.open_day], days.count[pairs.whole_day]
        places = np.arange(days.width)
        self.there = self.count[:, None] > places
        way = days.way[pairs.open_day]
        told = self.there & (way != UNMARKED)
        self.wrong, self.turned = (told & (way != np.where(places % 2 == even, IN, OUT)) for even in (0, 1))
        self.same = (self.x - pairs.like).astype(np.float64)
        alone = _kernel(self.same, pairs.stray_s[:, None])
        self.head = _summed(self._chained(alone, self.same, self.same, 1, self.wrong))

    def with_one(self, *, missing: bool) -> Floats:
        """Return the likelihood of each place at which one may be `missing`, or else be too many."""
        # Those after it lie beside the whole day's next ones where one is missing, else beside those before.
        by, ahead = (-1, 0) if missing else (1, 1)
        moved = (self.x - np.roll(self.pairs.like, by, axis=1)).astype(np.float64)
        alone = _kernel(moved, self.pairs.stray_s[:, None])
        first = self._chained(alone, moved, self.same, ahead + 1, self.turned)
        others = self._chained(alone, moved, moved, 1, self.turned)
        each = self.head + _ahead(first, ahead) + _ahead(_rest(others), ahead + 1)
        last = self.x[np.arange(len(self.x)), self.count - 1]
        anywhere = np.log(EXTRA) - np.log(np.maximum(last - self.x[:, 0], HOUR_S))
        weighed: Floats = each + (self.pairs.weight + (-np.log(self.whole) if missing else anywhere))[:, None]
        return weighed

    def marks(self) -> Floats:
        """Return the likelihood that nothing but marks is wrong, where some are."""
        told: Floats = self.head[:, -1] + self.pairs.weight + np.log(MARKS)
        return np.where(self.wrong.any(axis=1), told, -np.inf)

    def _chained(self, alone: Floats, apart: Floats, previous: Floats, by: int, wrong: Mask) -> Floats:
        """Return log likelihoods of how far punches lie from a whole day's: alone, or as far as one before them."""
        density = alone.copy()
        carried = _kernel(apart[:, by:] - previous[:, :-by], self.pairs.stray_s[:, None])
        density[:, by:] = (density[:, by:] + carried) / 2
        told: Floats = np.where(self.there, np.log(density) + np.log(WRONG_MARK) * wrong, 0.0)
        return told


def _kernel(apart: Floats, stray: Floats) -> Floats:
    """Return the density of Student's t with two degrees of freedom [1/s]."""
    square = 1 + np.square(apart / stray) / 2
    density: Floats = 1 / (square * np.sqrt(square) * (2 * np.sqrt(2) * stray))
    return density


def _summed(terms: Floats) -> Floats:
    """Return sums of what lies before each place, and of all."""
    return np.concatenate([np.zeros((len(terms), 1)), np.cumsum(terms, axis=1)], axis=1)


def _rest(terms: Floats) -> Floats:
    """Return sums of what lies from each place on."""
    return np.cumsum(terms[:, ::-1], axis=1)[:, ::-1]


def _ahead(terms: Floats, by: int) -> Floats:
    """Return at each place, one more than there are, what stands so many places ahead; 0 behind the last."""
    return np.concatenate([terms[:, by:], np.zeros((len(terms), by + 1))], axis=1)
