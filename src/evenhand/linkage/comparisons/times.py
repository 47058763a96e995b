"""How well a stray's times fit a person's schedule, or the hours they usually punch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.comparisons.sampling import expanded, sampled_places
from evenhand.linkage.roster import BINS, PeopleColumns
from evenhand.linkage.strays import Ints, StrayColumns
from evenhand.linkage.weights.match_weights import Floats
from evenhand.linkage.weights.parameters import Weights
from evenhand.terms.zones import DAY_S

__all__ = ["Times", "anybody_at_all", "compare_times"]

MARGIN_S = 2 * 3600
MOST_PUNCHES = 8


@dataclass(frozen=True)
class Times:
    """A pair each: mean log2 density of the stray's times [per min], minutes from known times, punches compared."""

    bits: Floats
    minutes_off: Floats
    compared: Ints


def compare_times(strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, weights: Weights) -> Times:
    """Return how well the stray's times fit the person's scheduled shifts, or their usual hours without a schedule.

    Within a scheduled shift a part `mid_shift` of punches (meals) may fall anywhere; the others lie around its
    start or end with a Laplace density of `scale_min`, and a part `elsewhere` at any time of day. At most eight punches
    a stray are compared.
    """
    sampled = sampled_places(strays.first, strays.until, MOST_PUNCHES)
    parts = [_of_some(strays, roster, some, sampled, weights) for some in pairs.in_parts()]
    return Times(*map(np.concatenate, zip(*parts, strict=True)))


def _of_some(
    strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, sampled: tuple[Ints, Ints], weights: Weights
) -> tuple[Floats, Floats, Ints]:
    pair, place = expanded(pairs, sampled)
    who, at = pairs.person[pair], strays.at[place]
    density, off = _scheduled_density(roster, who, at, weights)
    by_habit = np.flatnonzero(~roster.has_schedule[who])
    people, back = np.unique(who[by_habit], return_inverse=True)
    half_hour = at[by_habit] % DAY_S // (DAY_S // BINS)
    weekday = 7 * roster.weekdays(people)[back, at[by_habit] // DAY_S % 7]
    density[by_habit] = weekday * roster.usual(people)[back, half_hour] / (DAY_S / 60 / BINS)
    density = (1 - weights.elsewhere) * density + weights.elsewhere / 1440
    compared = np.bincount(pair, minlength=pairs.size)
    shared = np.maximum(compared, 1)
    bits = np.bincount(pair, weights=np.log2(density), minlength=pairs.size) / shared
    return bits, np.bincount(pair, weights=off, minlength=pairs.size) / shared, compared


def _scheduled_density(roster: PeopleColumns, who: Ints, at: Ints, weights: Weights) -> tuple[Floats, Floats]:
    plan = roster.schedule
    if not len(plan.at):
        return np.zeros(len(who)), np.full(len(who), np.nan)
    _, last = plan.between(who, at, at + MARGIN_S)
    density, off, within = np.zeros(len(who)), np.full(len(who), 720.0), weights.mid_shift
    for place in (last - 1, last - 2):
        row = np.clip(place, 0, len(plan.at) - 1)
        mine = (place >= 0) & (plan.person[row] == who)
        starts, ends = plan.at[row], plan.ends[row]
        from_bound = np.minimum(np.abs(at - starts), np.abs(at - ends)) / 60
        inside = (at >= starts) & (at <= ends)
        middle = np.where(inside, 60 / np.maximum(ends - starts, 1), 0.0)
        bound = np.exp(-from_bound / weights.scale_min) / (4 * weights.scale_min)
        density = np.maximum(density, np.where(mine, within * middle + (1 - within) * bound, 0.0))
        off = np.where(mine, np.minimum(off, np.where(inside, np.minimum(from_bound, 30), from_bound)), off)
    return density, np.minimum(off, 720)


def anybody_at_all(strays: StrayColumns, roster: PeopleColumns) -> Floats:
    """Return, a stray, the mean log2 density [per min] of its times if anybody of the workplace had made them."""
    every = np.bincount(roster.attributed.at % DAY_S // (DAY_S // BINS), minlength=BINS).astype(np.float64)
    every = (every + np.roll(every, 1) + np.roll(every, -1)) / 3 + 1
    density = 0.7 * every / every.sum() / (DAY_S / 60 / BINS) + 0.3 / 1440
    bits = np.log2(density[strays.at % DAY_S // (DAY_S // BINS)])
    summed = np.bincount(strays.of_stray, weights=bits, minlength=strays.size)
    return np.asarray(summed / np.maximum(strays.until - strays.first, 1))
