"""What is seen of each pair of a stray and a person: agreements counted, times compared, contradictions found."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenhand.linkage.bits.match_weights import Floats
from evenhand.linkage.seen.pairs import Pairs
from evenhand.linkage.seen.roster import BINS, Flags, Roster, ranges
from evenhand.linkage.seen.strays import Ints, Strays
from evenhand.terms.settings import Policy
from evenhand.terms.zones import DAY_S

__all__ = [
    "TRAVEL_S",
    "Shifts",
    "Times",
    "count_shifts",
    "impossible_punches",
    "sampled_places",
    "times_seen",
    "traffic",
]

MARGIN_S = 2 * 3600
LONGEST_S = 10 * 3600
MOST_REACH_S = 7 * 3600
TRAVEL_S = 600  # nobody is at two sites within ten minutes

MOST_SHIFTS = 12
MOST_PUNCHES = 8


@dataclass(frozen=True)
class Shifts:
    """Counts a pair: shifts of the stray on which the person was due and silent; with punches of their own that fit."""

    days_k: Ints
    days_n: Ints
    parity_k: Ints
    parity_n: Ints


@dataclass(frozen=True)
class Times:
    """A pair each: mean log2 density of the stray's times [per min], minutes from known times, punches compared."""

    bits: Floats
    minutes_off: Floats
    compared: Ints


def count_shifts(strays: Strays, roster: Roster, pairs: Pairs, policy: Policy) -> Shifts:
    """Return, a pair, on how many of the stray's shifts the person was due and silent, or punched and fits.

    A person without a schedule counts as due. Punches of the person's own fit where both sets together go in and
    out by turns. At most twelve shifts a stray are looked at, evenly chosen.
    """
    pair, shift = _expanded(pairs, sampled_places(strays.shift_first, strays.shift_until, MOST_SHIFTS))
    who = pairs.person[pair]
    starts, ends = strays.shift_starts[shift], strays.shift_ends[shift]
    reach = np.clip(LONGEST_S - (ends - starts), MARGIN_S, MOST_REACH_S)
    left, right = roster.owned.between(who, starts - reach, ends + reach)
    silent = left == right
    due = ~roster.has_schedule[who] | _is_scheduled(roster, who, starts, ends)
    size = len(pairs.person)
    busy = np.flatnonzero(~silent)
    fits = _alternates(strays, roster, shift[busy], left[busy], right[busy], policy)
    return Shifts(
        days_k=np.bincount(pair[silent & due], minlength=size),
        days_n=np.bincount(pair, minlength=size),
        parity_k=np.bincount(pair[busy][fits], minlength=size),
        parity_n=np.bincount(pair[busy], minlength=size),
    )


def _is_scheduled(roster: Roster, who: Ints, starts: Ints, ends: Ints) -> Flags:
    plan = roster.schedule
    if not len(plan.at):
        return np.zeros(len(who), dtype=bool)
    _, last = plan.between(who, starts, ends + MARGIN_S)
    at = np.maximum(last - 1, 0)
    return np.asarray((plan.person[at] == who) & (plan.ends[at] + MARGIN_S >= starts))


def _alternates(strays: Strays, roster: Roster, shift: Ints, left: Ints, right: Ints, policy: Policy) -> Flags:
    """Whether the shift's punches and the person's own at places left to right go in and out by turns."""
    n = len(shift)
    first = np.searchsorted(strays.of_shift, shift)
    counts = np.searchsorted(strays.of_shift, shift, side="right") - first
    places, own = ranges(first, counts), ranges(left, right - left)
    row = np.concatenate([np.repeat(np.arange(n), counts), np.repeat(np.arange(n), right - left)])
    at = np.concatenate([strays.at[places], roster.owned.at[own]])
    way = np.concatenate([strays.direction[places], roster.owned.direction[own]])
    mine = np.repeat([False, True], [len(places), len(own)])
    order = np.lexsort((at, row))
    row, at, way, mine = row[order], at[order], way[order], mine[order]
    same = row[1:] == row[:-1]
    clash = same & (way[1:] == way[:-1]) & (way[1:] != 0) & (np.diff(at) >= policy.double_s)
    wrong = np.zeros(n, dtype=bool)
    wrong[row[1:][clash]] = True
    # without directions: both sets whole by themselves, and one inside the other's time
    silent_on_way = np.bincount(row[way == 0], minlength=n) > 0
    total = np.bincount(row, minlength=n)
    overlaps = same & (mine[1:] != mine[:-1])
    switches = np.bincount(row[1:][overlaps], minlength=n)
    own_count = right - left
    doubtful = (total % 2 == 1) | ((own_count % 2 == 0) & (switches > 1))
    return ~np.where(silent_on_way, doubtful, wrong)


def times_seen(
    strays: Strays, roster: Roster, pairs: Pairs, *, scale_min: float, elsewhere: float, mid_shift: float
) -> Times:
    """Return how well the stray's times fit the person's scheduled shifts, or their usual hours without a schedule.

    Within a scheduled shift a part `mid_shift` of punches (meals) may fall anywhere; the others lie around its
    start or end with a Laplace density of `scale_min`. At most eight punches a stray are compared.
    """
    pair, place = _expanded(pairs, sampled_places(strays.first, strays.until, MOST_PUNCHES))
    who, at = pairs.person[pair], strays.at[place]
    density, off = _scheduled_density(roster, who, at, scale_min, mid_shift)
    people, back = np.unique(who, return_inverse=True)
    usual = roster.usual(people)[back, at % DAY_S // (DAY_S // BINS)] / (DAY_S / 60 / BINS)
    density = np.where(roster.has_schedule[who], density, usual)
    density = (1 - elsewhere) * density + elsewhere / 1440
    size = len(pairs.person)
    compared = np.bincount(pair, minlength=size)
    shared = np.maximum(compared, 1)
    return Times(
        bits=np.bincount(pair, weights=np.log2(density), minlength=size) / shared,
        minutes_off=np.bincount(pair, weights=off, minlength=size) / shared,
        compared=compared,
    )


def _scheduled_density(
    roster: Roster, who: Ints, at: Ints, scale_min: float, mid_shift: float
) -> tuple[Floats, Floats]:
    plan = roster.schedule
    if not len(plan.at):
        return np.zeros(len(who)), np.full(len(who), np.nan)
    _, last = plan.between(who, at, at + MARGIN_S)
    density, off = np.zeros(len(who)), np.full(len(who), 720.0)
    for place in (last - 1, last - 2):
        row = np.clip(place, 0, len(plan.at) - 1)
        mine = (place >= 0) & (plan.person[row] == who)
        starts, ends = plan.at[row], plan.ends[row]
        from_bound = np.minimum(np.abs(at - starts), np.abs(at - ends)) / 60
        inside = (at >= starts) & (at <= ends)
        middle = np.where(inside, 60 / np.maximum(ends - starts, 1), 0.0)
        bound = np.exp(-from_bound / scale_min) / (4 * scale_min)
        density = np.maximum(density, np.where(mine, mid_shift * middle + (1 - mid_shift) * bound, 0.0))
        off = np.where(mine, np.minimum(off, np.where(inside, np.minimum(from_bound, 30), from_bound)), off)
    return density, np.minimum(off, 720)


def traffic(strays: Strays, roster: Roster) -> Floats:
    """Return, a stray, the mean log2 density [per min] of its times if anybody of the workplace had made them."""
    every = np.bincount(roster.owned.at % DAY_S // (DAY_S // BINS), minlength=BINS).astype(np.float64)
    every = (every + np.roll(every, 1) + np.roll(every, -1)) / 3 + 1
    density = 0.7 * every / every.sum() / (DAY_S / 60 / BINS) + 0.3 / 1440
    bits = np.log2(density[strays.at % DAY_S // (DAY_S // BINS)])
    summed = np.bincount(strays.of_stray, weights=bits, minlength=strays.size)
    return np.asarray(summed / np.maximum(strays.until - strays.first, 1))


def impossible_punches(strays: Strays, roster: Roster, pairs: Pairs) -> tuple[Ints, Ints]:
    """Return (pair, place of punch) of every punch the person cannot have made.

    Within ten minutes they punched at another site under their own number, or were not employed that day.
    """
    counts = strays.until[pairs.stray] - strays.first[pairs.stray]
    pair = np.repeat(np.arange(len(pairs.person)), counts)
    place = ranges(strays.first[pairs.stray], counts)
    who, at, day = pairs.person[pair], strays.at[place], strays.day[place]
    left, right = roster.owned.between(who, at - TRAVEL_S, at + TRAVEL_S)
    near = np.flatnonzero(right > left)
    site = roster.sites_of(strays.reader)
    elsewhere = np.zeros(len(pair), dtype=bool)
    rows, own = np.repeat(near, (right - left)[near]), ranges(left[near], (right - left)[near])
    here, there = site[pairs.stray[pair[rows]]], roster.owned_site[own]
    away = (here >= 0) & (there >= 0) & (here != there)
    elsewhere[rows[away]] = True
    unemployed = (day < roster.hired[who]) | (day > roster.left[who])
    bad = np.flatnonzero(elsewhere | unemployed)
    return pair[bad], place[bad]


def sampled_places(first: Ints, until: Ints, most: int) -> tuple[Ints, Ints]:
    """Return (stray, place) of at most `most` places of each stray's part, evenly chosen."""
    counts = until - first
    taken = np.minimum(counts, most)
    stray = np.repeat(np.arange(len(first)), taken)
    rank = np.arange(len(stray)) - np.repeat(np.cumsum(taken) - taken, taken)
    return stray, first[stray] + rank * counts[stray] // np.maximum(taken[stray], 1)


def _expanded(pairs: Pairs, sampled: tuple[Ints, Ints]) -> tuple[Ints, Ints]:
    """Every pair with every sampled place of its stray."""
    stray, place = sampled
    strays = len(pairs.first)
    begins = np.searchsorted(stray, np.arange(strays))
    counts = np.searchsorted(stray, np.arange(strays), side="right") - begins
    of_pair = counts[pairs.stray]
    return np.repeat(np.arange(len(pairs.stray)), of_pair), place[ranges(begins[pairs.stray], of_pair)]
