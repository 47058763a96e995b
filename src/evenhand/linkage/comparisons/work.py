"""On which stretches of a stray's work the person was due and silent, or punched and fits."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.comparisons.sampling import expanded, sampled_places
from evenhand.linkage.roster import BINS, NEVER, Flags, PeopleColumns, Timeline, key_of, ranges, row_of
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
    sampled = sampled_places(strays.stretch_first, strays.stretch_until, MOST_STRETCHES)
    parts = [_of_some(strays, roster, some, sampled, policy) for some in pairs.in_parts()]
    days_k, days_n, parity_k, parity_n = map(np.concatenate, zip(*parts, strict=True))
    return Stretches(days_k, days_n, parity_k, parity_n, _seldom_there(strays, roster, pairs))


def _of_some(
    strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, sampled: tuple[Ints, Ints], policy: Policy
) -> tuple[Ints, Ints, Ints, Ints]:
    """How many stretches a pair were silent, of how many due, and how many fit, of how many with punches."""
    pair, stretch = expanded(pairs, sampled)
    who = pairs.person[pair]
    starts, ends = strays.stretch_starts[stretch], strays.stretch_ends[stretch]
    reach = np.clip(WORKDAY_S - (ends - starts), MARGIN_S, MOST_REACH_S)
    left, right = roster.attributed.between(who, starts - reach, ends + reach)
    silent = left == right
    counts = silent.copy()
    counts[silent] = ~_is_asked_about(roster, who[silent], (starts - reach)[silent], (ends + reach)[silent])
    is_planned = roster.has_schedule[who]
    due = np.empty(len(who), dtype=bool)
    for rows, is_due in ((is_planned, _is_scheduled), (~is_planned, _usually_works)):
        due[rows] = is_due(roster, who[rows], starts[rows], ends[rows])
    size = pairs.size
    busy = np.flatnonzero(~silent)
    fits = _alternates(strays, roster, stretch[busy], left[busy], right[busy], policy)
    return (
        np.bincount(pair[counts & due], minlength=size),
        np.bincount(pair[due & (counts | ~silent)], minlength=size),
        np.bincount(pair[busy][fits], minlength=size),
        np.bincount(pair[busy], minlength=size),
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
    if not n:
        return np.zeros(0, dtype=bool)
    bounds = np.searchsorted(strays.of_stretch, np.arange(len(strays.stretch_stray) + 1))
    first = bounds[stretch]
    counts = bounds[stretch + 1] - first
    places, own = ranges(first, counts), ranges(left, right - left)
    rows = np.arange(n)
    key = np.concatenate(
        [
            key_of(np.repeat(rows, counts), strays.at[places]),
            key_of(np.repeat(rows, right - left), roster.attributed.at[own]),
        ]
    )
    # both halves stand by row and time, so that a stable sort merges them in one pass
    order = np.argsort(key, kind="stable")
    key = key[order]
    way = np.concatenate([strays.direction[places], roster.attributed.direction[own]])[order]
    later_s = np.diff(key)
    same = later_s < NEVER // 2  # in the same row, where keys lie as far apart as instants
    clash = same & (way[1:] == way[:-1]) & (way[1:] != 0) & (later_s >= policy.repeat_gap_s)
    wrong = np.zeros(n, dtype=bool)
    wrong[row_of(key[1:][clash])] = True
    unsaid = way == 0
    if not unsaid.any():
        return ~wrong
    # without directions: both sets whole by themselves, and one inside the other's time
    row, mine = row_of(key), order >= len(places)
    silent_on_way = np.bincount(row[unsaid], minlength=n) > 0
    total = np.bincount(row, minlength=n)
    overlaps = same & (mine[1:] != mine[:-1])
    switches = np.bincount(row[1:][overlaps], minlength=n)
    own_count = right - left
    doubtful = (total % 2 == 1) | ((own_count % 2 == 0) & (switches > 1))
    return ~np.where(silent_on_way, doubtful, wrong)
