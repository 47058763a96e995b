"""How like a day with something open is to the person's whole days, under each account of what is wrong with it.

Source: common practice, no source; a kernel estimate over past days (Parzen 1962) with Student's t as the kernel, whose
tails keep a wild day from deciding. Each whole day says how likely the punches of the open day are if one of its own
is missing at some place, if one of those there is too many, or if nothing but marks is wrong.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.law.codes import IN, OUT, UNMARKED
from evenhand.law.proposals.days import MOST, Column, Days
from evenhand.terms.zones import DAY_S

__all__ = ["Floats", "Likeness", "Mask", "Pairs", "likeness_of", "pair_days"]

Floats = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]
PLACES = np.arange(MOST + 1)

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
class Pairs:
    """Each open day beside each whole day of the same person: their rows, the whole one moved to the open one's clock.

    `like` is when the whole day's punches would be on the open day's clock [s]; `stray_s` how far the person strays.
    """

    open_day: Column
    whole_day: Column
    like: Column
    stray_s: Floats
    weight: Floats


@dataclass(frozen=True)
class Likeness:
    """Log likelihoods of each pair: of a punch `missing` at each place, of each being `extra`, of `marks` alone."""

    missing: Floats
    extra: Floats
    marks: Floats


def pair_days(days: Days, open_days: Column) -> Pairs:
    """Return the open days (rows of `days`) beside the whole days of the same people that are not open."""
    whole = days.is_whole()
    whole[open_days] = False
    rows = np.flatnonzero(whole)
    stray = _strays(days, rows)
    low, high = (np.searchsorted(days.person[rows], days.person[open_days], side=side) for side in ("left", "right"))
    pairs = high - low
    mine = np.repeat(np.arange(len(open_days)), pairs)
    theirs = rows[np.arange(len(mine)) - np.repeat(np.cumsum(pairs) - pairs, pairs) + low[mine]]
    asked = open_days[mine]
    like, weight = _moved(days, asked, theirs)
    return Pairs(asked, theirs, like, stray[days.person[asked]], weight)


def _strays(days: Days, rows: Column) -> Floats:
    """Return for each person how far punches lie from those of their whole day before with as many [s]."""
    people = int(days.person.max(initial=-1)) + 1
    order = rows[np.lexsort((rows, days.count[rows], days.person[rows]))]
    before, after = order[:-1], order[1:]
    same = (days.person[before] == days.person[after]) & (days.count[before] == days.count[after])
    before, after = before[same], after[same]
    apart = np.abs((days.civil[after] - days.civil[before] + DAY_S // 2) % DAY_S - DAY_S // 2).astype(np.float64)
    apart[np.arange(MOST) >= days.count[after][:, None]] = np.nan
    owner, flat = np.repeat(days.person[after], MOST), apart.ravel()
    owner, flat = owner[~np.isnan(flat)], flat[~np.isnan(flat)]
    order = np.lexsort((flat, owner))
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
    last_x = np.take_along_axis(x, np.minimum(days.count[asked], MOST)[:, None] - 1, 1)[:, 0]
    last_t = np.take_along_axis(t, days.count[theirs][:, None] - 1, 1)[:, 0]
    by_first, by_last = ((a - b + DAY_S // 2) // DAY_S * DAY_S for a, b in ((x[:, 0], t[:, 0]), (last_x, last_t)))
    first_is_nearer = np.abs(x[:, 0] - t[:, 0] - by_first) <= np.abs(last_x - last_t - by_last)
    moved = np.where(first_is_nearer, by_first, by_last)[:, None] * np.ones(MOST, np.int64)
    weight = np.zeros(len(asked))
    here, there = days.planned[asked], days.planned[theirs]
    both = np.all(here > 0, axis=1) & np.all(there > 0, axis=1)
    by_start, by_end = (here - there).T
    at_end = np.arange(MOST) == days.count[theirs][:, None] - 1
    moved = np.where(both[:, None], np.where(at_end, by_end[:, None], by_start[:, None]), moved)
    weight[both] = -1.5 * np.log1p(((by_end - by_start)[both] / PLANNED_S) ** 2 / 2)
    return t + moved, weight


def likeness_of(days: Days, pairs: Pairs) -> Likeness:
    """Return how likely the open day is beside each whole day, under each account of what is wrong with it."""
    x, way = days.civil[pairs.open_day], days.way[pairs.open_day]
    count, whole = days.count[pairs.open_day], days.count[pairs.whole_day]
    there = count[:, None] > PLACES[:MOST]
    wrong = [there & (way != UNMARKED) & (way != np.where(PLACES[:MOST] % 2 == even, IN, OUT)) for even in (0, 1)]
    as_it_stands, turned = (np.log(WRONG_MARK) * marks for marks in wrong)
    stray = pairs.stray_s[:, None]

    same, later, earlier = ((x - np.roll(pairs.like, by, axis=1)).astype(np.float64) for by in (0, -1, 1))
    head = _summed(np.where(there, _follow(same, same, 1, stray) + as_it_stands, 0.0))
    # With a punch missing those after it lie beside the whole day's next ones, with one too many beside those before.
    after_missing, after_extra = (
        [np.where(there, _follow(moved, previous, by, stray) + turned, 0.0) for moved, previous, by in chain]
        for chain in (((later, same, 1), (later, later, 1)), ((earlier, same, 2), (earlier, earlier, 1)))
    )
    missing = head + _ahead(after_missing[0], 0) + _ahead(_rest(after_missing[1]), 1)
    extra = head + _ahead(after_extra[0], 1) + _ahead(_rest(after_extra[1]), 2)

    lacks, has = (whole == count + 1)[:, None] & (count[:, None] >= PLACES), (whole == count - 1)[:, None]
    last = np.take_along_axis(x, np.minimum(count, MOST)[:, None] - 1, 1)[:, 0]
    length = np.maximum(last - x[:, 0], HOUR_S)
    at_length, told = pairs.weight - np.log(length), pairs.weight + np.log(MARKS)
    return Likeness(
        missing=np.where(lacks, missing + (pairs.weight - np.log(whole))[:, None], -np.inf),
        extra=np.where(has & (count[:, None] > PLACES), extra + np.log(EXTRA) + at_length[:, None], -np.inf),
        marks=np.where((whole == count) & wrong[0].any(axis=1), head[:, MOST] + told, -np.inf),
    )


def _kernel(apart: Floats, stray: Floats) -> Floats:
    """Return the density of Student's t with two degrees of freedom [1/s]."""
    density: Floats = (1 + (apart / stray) ** 2 / 2) ** -1.5 / (2 * np.sqrt(2) * stray)
    return density


def _follow(apart: Floats, previous: Floats, by: int, stray: Floats) -> Floats:
    """Return log likelihoods of how far punches lie from a whole day's: each alone, or as far as one before it."""
    density = _kernel(apart, stray)
    density[:, by:] = (density[:, by:] + _kernel(apart[:, by:] - previous[:, :-by], stray)) / 2
    return np.log(density)


def _summed(terms: Floats) -> Floats:
    """Return sums of what lies before each place, and of all."""
    return np.concatenate([np.zeros((len(terms), 1)), np.cumsum(terms, axis=1)], axis=1)


def _rest(terms: Floats) -> Floats:
    """Return sums of what lies from each place on."""
    return np.cumsum(terms[:, ::-1], axis=1)[:, ::-1]


def _ahead(terms: Floats, by: int) -> Floats:
    """Return at each place, one more than there are, what stands so many places ahead; 0 behind the last."""
    return np.concatenate([terms[:, by:], np.zeros((len(terms), by + 1))], axis=1)
