"""Everybody on the roster whom nobody looked at for a stray: one lump with a weight of its own against nobody here.

Whoever is not compared is not impossible. A stray may be theirs where nothing explains the number and they were not
silent enough to be found, which happens as often as owners' numbers are unlike and owners are seldom silent.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from evenhand.linkage.blocking import SAMPLED_STRETCHES, Pairs
from evenhand.linkage.comparisons.compare import Comparisons
from evenhand.linkage.roster import PeopleColumns
from evenhand.linkage.strays import StrayColumns
from evenhand.linkage.weights.match_weights import Floats
from evenhand.linkage.weights.mixing import CHANCES
from evenhand.linkage.weights.parameters import OTHER, Weights

__all__ = ["Unlooked", "unlooked_people"]

USUAL = 2.0  # punches that the usual share of a site counts as, as in the weight of the site
AWAY = 0.1


@dataclass(frozen=True)
class Unlooked:
    """A stray each: how many people there are that it was not compared with, each counting as far as the site fits."""

    here: Floats
    elsewhere: Floats
    people: int

    def odds(self, compared: Comparisons, pairs: Pairs, weights: Weights) -> Floats:
        """Return P(theirs) against P(nobody's on the roster) of each stray's lump."""
        lasts = (weights.lengths[0] / weights.lengths[1])[compared.length]
        prior = (1 - weights.nobody) / weights.nobody / self.people * weights.errors[OTHER] * lasts
        m, _ = weights.mixed["days"]
        theirs = prior * (self.here * _unfound(m) + self.elsewhere)
        for name in ("name", "confirmed"):
            told = np.zeros(len(theirs), dtype=bool)
            told[pairs.stray[compared.counts[name].trials > 0]] = True
            theirs = np.where(told, theirs * (1 - weights.m[name]), theirs)
        return np.asarray(theirs)


def unlooked_people(
    strays: StrayColumns, roster: PeopleColumns, pairs: Pairs, ruled_out: NDArray[np.int64]
) -> Unlooked:
    """Return the people employed while each stray was there who are not among its pairs.

    `ruled_out` are how many somebody has ruled out, a stray each.
    """
    site = roster.sites_of(strays.reader)
    known = np.maximum(site, 0)
    sites = roster.site_counts.shape[1]
    totals = roster.site_counts.sum(axis=0).astype(np.float64) + 1
    share = (totals / totals.sum())[known]
    employed = _employed(strays, roster)
    at_home = np.bincount(roster.site[roster.site >= 0], minlength=sites)[known] * (site >= 0)
    looked_at_home = np.bincount(pairs.stray[roster.site[pairs.person] == site[pairs.stray]], minlength=strays.size)
    here = np.maximum(np.minimum(at_home, employed) - looked_at_home - ruled_out, 0)
    others = np.maximum(employed - at_home - (pairs.until - pairs.first - looked_at_home), 0)
    fits = np.where(site >= 0, AWAY + (1 - AWAY) / share, 1.0)
    return Unlooked(
        here * fits, others * np.where(site >= 0, _fit_away(roster, share, known), 1.0), max(roster.size, 1)
    )


def _employed(strays: StrayColumns, roster: PeopleColumns) -> NDArray[np.int64]:
    """How many were employed at some time while each stray was there."""
    begun = np.searchsorted(np.sort(roster.hired), strays.last_day, side="right")
    return np.asarray(begun - np.searchsorted(np.sort(roster.left), strays.first_day))


def _fit_away(roster: PeopleColumns, share: Floats, site: NDArray[np.int64]) -> Floats:
    """How much likelier the site is for somebody of another site than for anybody, on the mean over them."""
    counts = roster.site_counts
    weight = 1 / (counts.sum(axis=1) + USUAL)
    placed = roster.site >= 0
    home, own = roster.site[placed], weight[placed]
    sites = counts.shape[1]
    punched = weight @ counts - np.bincount(home, weights=own * counts[placed, home], minlength=sites)
    imagined = weight.sum() - np.bincount(home, weights=own, minlength=sites)
    away = roster.size - np.bincount(home, minlength=sites)
    found = (punched[site] / share + USUAL * AWAY * imagined[site]) / np.maximum(away[site], 1)
    return np.asarray(found)


def _unfound(matched: Floats) -> float:
    """P(an owner is silent on fewer than half of the stretches by which people are sought)."""
    n = SAMPLED_STRETCHES
    fewer = (math.comb(n, k) * CHANCES**k * (1 - CHANCES) ** (n - k) for k in range((n + 1) // 2))
    return float(matched @ sum(fewer))
