"""The weights for one site: what pairs that are no match show, and what its strays teach."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.comparisons.compare import Comparisons
from evenhand.linkage.comparisons.nonmatches import compare_nonmatches
from evenhand.linkage.roster import Flags, PeopleColumns
from evenhand.linkage.strays import StrayColumns
from evenhand.linkage.weights.estimation import learned
from evenhand.linkage.weights.match_weights import Floats
from evenhand.linkage.weights.parameters import Weights
from evenhand.linkage.weights.scoring import alone, score, total_bits
from evenhand.linkage.weights.unlooked import Unlooked
from evenhand.terms.settings import Policy

__all__ = ["fitted_weights"]


def fitted_weights(
    start: Weights,
    compared: Comparisons,
    fixed: dict[str, Floats],
    strays: StrayColumns,
    roster: PeopleColumns,
    pairs: Pairs,
    unlooked: Unlooked,
    policy: Policy,
) -> Weights:
    """Return the weights learned from `start`, in two rounds.

    In the second, people who own a stray by the first no longer count among those that are no match: they were silent
    because their punches came under another number, which says nothing of how often others are.
    """

    def expect(weights: Weights) -> tuple[Floats, Floats]:
        return alone(total_bits(score(compared, fixed, weights)), pairs, unlooked.odds(compared, pairs, weights))

    apart, now = np.ones(roster.size, dtype=bool), start
    for _ in range(2):
        now = learned(_with_nonmatches(start, strays, roster, apart, policy), compared, expect)
        chance, _ = expect(now)
        apart = np.bincount(pairs.person, weights=chance, minlength=roster.size) < 0.5
    return now


def _with_nonmatches(
    weights: Weights, strays: StrayColumns, roster: PeopleColumns, among: Flags, policy: Policy
) -> Weights:
    """The weights with u, and how alike one person's days are, as this site's pairs that are no match show them."""
    before = {name: u for name, (_, u) in weights.mixed.items()} | {"seldom_there": weights.seldom_there}
    apart = compare_nonmatches(strays, roster, among, policy, before=before, pseudo=weights.pseudo)
    mixed = {name: (m, apart[name]) for name, (m, _) in weights.mixed.items()}
    return replace(weights, mixed=mixed, seldom_there=apart["seldom_there"])
