"""On which stretches of a stray's work the person was due and silent, or punched and fits."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.comparisons.sampling import expanded, sampled_places
from evenhand.linkage.roster import BINS, Flags, PeopleColumns, Timeline, ranges
from evenhand.linkage.strays import Ints, StrayColumns
from evenhand.terms.settings import Policy
from evenhand.terms.zones import DAY_S

__all__ = ["Stretches", "compare_stretches"]

MARGIN_S = 2 * 3600
# How far around a stretch somebody's own punches are one workday with it: what is left of ten hours, no policy's bound,
# since the longest span a policy allows would take the shifts before and after for the same day.
WORKDAY_S = 10 * 3600
MOST_REACH_S = 7 * 3600
MOST_STRETCHES = 12
FEWEST_OUTSIDE, LITTLE_OUTSIDE = 3, 0.3  # shifts due while the stray was not there, and days with punches a shift
LEAST_OF_A_WEEKDAY = 0.05


@dataclass(frozen=True)
class Stretches:
    """Counts a pair: stretches on which the person was due and silent, and those with punches of their own that fit."""

    days_k: Ints
    days_n: Ints
    parity_k: Ints
    parity_n: Ints
    is_seldom_there: Flags


def compare_stretches(strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, policy: Policy) -> Stretches:
    """Return, a pair, on how many of the stray's stretches the person was due and silent, or punched and fits.

    A person without a schedule is due at their usual hours and weekdays, or whenever too little is known of them. A
    silent stretch on which punches of theirs are asked about says nothing. Punches of the person's own fit where both
    sets together go in and out by turns. At most twelve a stray are looked at, evenly chosen.
    """
    pair, stretch = expanded(pairs, sampled_places(strays.stretch_first, strays.stretch_until, MOST_STRETCHES))
    who = pairs.person[pair]
    starts, ends = strays.stretch_starts[stretch], strays.stretch_ends[stretch]
    reach = np.clip(WORKDAY_S - (ends - starts), MARGIN_S, MOST_REACH_S)
    left, right = roster.attributed.between(who, starts - reach, ends + reach)
    silent = left == right
    asked_about = silent & _is_asked_about(roster, who, starts - reach, ends + reach)
    due = np.where(
        roster.has_schedule[who], _is_scheduled(roster, who, starts, ends), _usually_works(roster, who, starts, ends)
    )
    size = len(pairs.person)
    busy = np.flatnonzero(~silent)
    fits = _alternates(strays, roster, stretch[busy], left[busy], right[busy], policy)
    return Stretches(
        days_k=np.bincount(pair[silent & due & ~asked_about], minlength=size),
        days_n=np.bincount(pair[due & ~asked_about], minlength=size),
        parity_k=np.bincount(pair[busy][fits], minlength=size),
        parity_n=np.bincount(pair[busy], minlength=size),
        is_seldom_there=_seldom_there(strays, roster, pairs),
    )


def _seldom_there(strays: StrayColumns, roster: PeopleColumns, pairs: Pairs) -> Flags:
    """Whether a pair's person was seldom there while the stray was not there either: then its silence tells little."""
    own, plan = roster.attributed, roster.schedule
    if not len(own.at):
        return np.zeros(pairs.size, dtype=bool)
    who = pairs.person
    first, last = (
        strays.at[strays.first][pairs.stray] - DAY_S // 2,
        strays.at[strays.until - 1][pairs.stray] + DAY_S // 2,
    )
    opens, closes = int(own.at.min()), int(own.at.max())
    shifts = _within(plan, who, np.full_like(first, opens), np.full_like(last, closes)) - _within(
        plan, who, first, last
    )
    days = (closes - opens - (last - first)) * 5 / 7 / DAY_S
    due = np.where(roster.has_schedule[who], shifts, days)
    own = roster.days_there
    days_there = _within(own, who, np.full_like(first, opens), np.full_like(last, closes)) - _within(
        own, who, first, last
    )
    return np.asarray((due >= FEWEST_OUTSIDE) & (days_there <= LITTLE_OUTSIDE * due))


def _within(times: Timeline, who: Ints, starts: Ints, ends: Ints) -> Ints:
    left, right = times.between(who, starts, ends)
    return right - left


def _is_scheduled(roster: PeopleColumns, who: Ints, starts: Ints, ends: Ints) -> Flags:
    plan = roster.schedule
    if not len(plan.at):
        return np.zeros(len(who), dtype=bool)
    _, last = plan.between(who, starts, ends + MARGIN_S)
    at = np.maximum(last - 1, 0)
    return np.asarray((last > 0) & (plan.person[at] == who) & (plan.ends[at] + MARGIN_S >= starts))


def _is_asked_about(roster: PeopleColumns, who: Ints, starts: Ints, ends: Ints) -> Flags:
    if roster.set_aside is None:
        return np.zeros(len(who), dtype=bool)
    return np.asarray(_within(roster.set_aside, who, starts, ends) > 0)


def _usually_works(roster: PeopleColumns, who: Ints, starts: Ints, ends: Ints) -> Flags:
    """Whether the middle of a stretch lies where somebody usually punches; of whom too little is known, it does."""
    people, back = np.unique(who, return_inverse=True)
    per_bin, per_day = roster.usual(people), roster.weekdays(people)
    bins = (starts % DAY_S // (DAY_S // BINS), ends % DAY_S // (DAY_S // BINS))
    usual = np.maximum(*(per_bin[back, at] for at in bins)) > 1 / BINS
    on_day = np.maximum(*(per_day[back, at // DAY_S % 7] for at in (starts, ends))) > LEAST_OF_A_WEEKDAY
    return np.asarray(~roster.has_hours[who] | (usual & on_day))


def _alternates(
    strays: StrayColumns, roster: PeopleColumns, stretch: Ints, left: Ints, right: Ints, policy: Policy
) -> Flags:
    """Whether the stretch's punches and the person's own at places left to right go in and out by turns."""
    n = len(stretch)
    first = np.searchsorted(strays.of_stretch, stretch)
    counts = np.searchsorted(strays.of_stretch, stretch, side="right") - first
    places, own = ranges(first, counts), ranges(left, right - left)
    row = np.concatenate([np.repeat(np.arange(n), counts), np.repeat(np.arange(n), right - left)])
    at = np.concatenate([strays.at[places], roster.attributed.at[own]])
    way = np.concatenate([strays.direction[places], roster.attributed.direction[own]])
    mine = np.repeat([False, True], [len(places), len(own)])
    order = np.lexsort((at, row))
    row, at, way, mine = row[order], at[order], way[order], mine[order]
    same = row[1:] == row[:-1]
    clash = same & (way[1:] == way[:-1]) & (way[1:] != 0) & (np.diff(at) >= policy.repeat_gap_s)
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
