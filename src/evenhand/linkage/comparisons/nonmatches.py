"""How people compare with strays that are not theirs: the same counts for pairs that are no match."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.comparisons.times import anybody_at_all, compare_times
from evenhand.linkage.comparisons.work import compare_stretches
from evenhand.linkage.roster import Flags, PeopleColumns
from evenhand.linkage.strays import Ints, StrayColumns
from evenhand.linkage.weights.match_weights import Floats
from evenhand.linkage.weights.parameters import Weights
from evenhand.terms.settings import Policy

__all__ = ["Nonmatches", "compare_nonmatches", "times_of_nobody"]

STRAYS, EACH = 150, 12


@dataclass(frozen=True)
class Nonmatches:
    """By kind of count: the mean share of agreements among pairs that are no match, and how alike one person's are."""

    u: dict[str, float]
    spread: dict[str, float]


def compare_nonmatches(
    strays: StrayColumns,
    roster: PeopleColumns,
    among: Flags,
    policy: Policy,
    *,
    prior: dict[str, float],
    spread: dict[str, float],
    pseudo: float,
) -> Nonmatches:
    """Return how often people of the site are silent, or fit, while strays are there that are not theirs.

    People are taken evenly over each site's roster, `among` those who own no stray as far as is known. Somebody
    who is never there is silent always: the more such people there are, the less silence says. Beta parameters
    by moments, held back by `pseudo` observations.
    """
    some = np.unique(np.linspace(0, max(strays.size - 1, 0), STRAYS).astype(np.int64))
    pairs = _evenly(strays, roster, some[: strays.size], among)
    counted = compare_stretches(strays, roster, pairs, policy)
    found_u, found_spread = {}, {}
    for name, k, n in (
        ("days", counted.days_k, counted.days_n),
        ("parity", counted.parity_k, counted.parity_n),
    ):
        share = k[n > 0] / n[n > 0]
        weight = len(share) + pseudo
        mean = float((share.sum() + pseudo * prior[name]) / weight)
        usual = prior[name] * (1 - prior[name]) / (spread[name] + 1)
        variance = float((((share - mean) ** 2).sum() + pseudo * usual) / weight)
        found_u[name] = min(max(mean, 0.005), 0.95)
        found_spread[name] = min(max(mean * (1 - mean) / max(variance, 1e-9) - 1, 0.05), 20.0)
    return Nonmatches(found_u, found_spread)


def times_of_nobody(strays: StrayColumns, roster: PeopleColumns, weights: Weights) -> Floats:
    """Return, a stray, the log2 density of its times [per min] if they were those of somebody unknown.

    Somebody unknown keeps to hours of their own all the same: the chance is averaged over people of the site,
    punch by punch for nobody in particular as one more of them.
    """
    pairs = _evenly(strays, roster, np.arange(strays.size), roster.has_hours)
    times = compare_times(strays, roster, pairs, weights)
    counted = np.minimum(strays.until - strays.first, weights.effective)
    whole = times.bits * counted[pairs.stray]
    mixed = anybody_at_all(strays, roster) * counted
    top = mixed.copy()
    np.maximum.at(top, pairs.stray, whole)
    total = np.bincount(pairs.stray, weights=np.exp2(whole - top[pairs.stray]), minlength=strays.size)
    return np.asarray(top + np.log2((total + np.exp2(mixed - top)) / (EACH + 1)))


def _evenly(strays: StrayColumns, roster: PeopleColumns, chosen: Ints, among: Flags) -> Pairs:
    """`EACH` people of the site beside each of the chosen strays, spread evenly over those `among` its people."""
    people = np.flatnonzero(among)
    people = people[np.argsort(roster.site[people], kind="stable")]
    site = roster.sites_of(strays.reader)[chosen]
    first = np.searchsorted(roster.site[people], site)
    many = np.searchsorted(roster.site[people], site, side="right") - first
    stray, first, many = (np.repeat(column[many > 0], EACH) for column in (chosen, first, many))
    rank = np.tile(np.arange(EACH), len(stray) // EACH)
    place = (stray * 31 + rank * np.maximum(many // EACH, 1)) % np.maximum(many, 1)
    return Pairs.of(stray, people[first + place], strays.size)
