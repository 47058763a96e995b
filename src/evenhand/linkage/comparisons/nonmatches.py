"""How people compare with strays that are not theirs: the same counts for pairs that are no match."""

from __future__ import annotations

import numpy as np

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.comparisons.times import Times, anybody_at_all, compare_times
from evenhand.linkage.comparisons.work import compare_stretches
from evenhand.linkage.roster import Flags, PeopleColumns
from evenhand.linkage.strays import Ints, StrayColumns
from evenhand.linkage.weights.match_weights import Floats
from evenhand.linkage.weights.mixing import learned_by_trials, learned_mixing
from evenhand.linkage.weights.parameters import Weights
from evenhand.terms.settings import Policy

__all__ = ["compare_nonmatches", "times_of_nobody"]

STRAYS, EACH, PEOPLE = 150, 12, 4000
PAIRS = 20_000


def compare_nonmatches(
    strays: StrayColumns,
    roster: PeopleColumns,
    among: Flags,
    policy: Policy,
    *,
    before: dict[str, Floats],
    pseudo: float,
) -> dict[str, Floats]:
    """Return how often people of the site are silent, or fit, while strays are there that are not theirs.

    People are taken evenly over each site's roster, `among` those who own no stray as far as is known. Somebody
    who is never there is silent always, and somebody on leave for as long as that: the more such people there are, the
    less silence says. The distributions over CHANCES are held back by `pseudo` people as `before`.
    """
    some = np.unique(np.linspace(0, max(strays.size - 1, 0), STRAYS).astype(np.int64))[: strays.size]
    pairs = _evenly(strays, roster, some, among, max(EACH, PEOPLE // max(len(some), 1)))
    counted = compare_stretches(strays, roster, pairs, policy)
    seldom = counted.is_seldom_there.astype(np.float64)
    found = {
        name: learned_by_trials(k, n, 1 - seldom, before[name], pseudo)
        for name, k, n in (
            ("days", counted.days_k, counted.days_n),
            ("parity", counted.parity_k, counted.parity_n),
        )
    }
    return found | {
        "seldom_there": learned_mixing(counted.days_k, counted.days_n, seldom, before["seldom_there"], pseudo)
    }


def times_of_nobody(
    strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, times: Times, weights: Weights
) -> Floats:
    """Return, a stray, the log2 density of its times [per min] if they were those of somebody unknown.

    Somebody unknown keeps to hours of their own all the same: the chance is averaged over everybody of the site whose
    hours are known, punch by punch for nobody in particular as one more of them. The few who fit make up most of it:
    of those who are not among `pairs` some are taken, and stand for the others.
    """
    site = roster.sites_of(strays.reader)
    counted = np.minimum(strays.until - strays.first, weights.effective)
    mixed = anybody_at_all(strays, roster) * counted
    here = roster.has_hours[pairs.person] & (roster.site[pairs.person] == site[pairs.stray])
    looked_at = np.bincount(pairs.stray[here], minlength=strays.size)
    at_site = np.bincount(roster.site[roster.has_hours & (roster.site >= 0)], minlength=site.max(initial=0) + 1)
    beside = np.where(site >= 0, at_site[np.maximum(site, 0)], 0)
    left_out = np.flatnonzero(beside > looked_at)
    some = _evenly(strays, roster, left_out, roster.has_hours, max(EACH, PAIRS // max(len(left_out), 1)))
    some = some.without(pairs)
    stands_for = (beside - looked_at) / np.maximum(some.until - some.first, 1)
    stray = np.concatenate([pairs.stray[here], some.stray])
    bits = np.concatenate([times.bits[here], compare_times(strays, roster, some, weights).bits]) * counted[stray]
    weight = np.concatenate([np.ones(int(here.sum())), stands_for[some.stray]])
    top = mixed.copy()
    np.maximum.at(top, stray, bits)
    total = np.bincount(stray, weights=weight * np.exp2(bits - top[stray]), minlength=strays.size)
    of = np.bincount(stray, weights=weight, minlength=strays.size)
    return np.asarray(top + np.log2((total + np.exp2(mixed - top)) / (of + 1)))


def _evenly(strays: StrayColumns, roster: PeopleColumns, chosen: Ints, among: Flags, each: int) -> Pairs:
    """`each` people of the site beside each of the chosen strays, spread evenly over those `among` its people."""
    people = np.flatnonzero(among)
    people = people[np.argsort(roster.site[people], kind="stable")]
    site = roster.sites_of(strays.reader)[chosen]
    first = np.searchsorted(roster.site[people], site)
    many = np.searchsorted(roster.site[people], site, side="right") - first
    taken = np.minimum(many, each)
    stray, first, many, of = (np.repeat(column, taken) for column in (chosen, first, many, taken))
    rank = np.arange(len(stray)) - np.repeat(np.cumsum(taken) - taken, taken)
    place = (stray * 31 + rank * many // np.maximum(of, 1)) % np.maximum(many, 1)
    return Pairs.of(stray, people[first + place], strays.size)
