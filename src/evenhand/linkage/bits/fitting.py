"""The weights for one site: what its strangers show, and what its strays teach."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from evenhand.linkage.bits.learn import learned
from evenhand.linkage.bits.match_weights import Floats
from evenhand.linkage.bits.scoring import Seen, alone, score, total_bits
from evenhand.linkage.bits.weights import AGREEMENTS, Weights
from evenhand.linkage.seen.pairs import Pairs
from evenhand.linkage.seen.roster import Flags, Roster
from evenhand.linkage.seen.strangers import strangers
from evenhand.linkage.seen.strays import Strays
from evenhand.terms.settings import Policy

__all__ = ["fitted_weights"]


def fitted_weights(
    start: Weights, seen: Seen, fixed: dict[str, Floats], strays: Strays, roster: Roster, pairs: Pairs, policy: Policy
) -> Weights:
    """Return the weights learned from `start`, in two rounds.

    In the second, people who own a stray by the first no longer count among the strangers: they were silent
    because their punches came under another number, which says nothing of how often others are.
    """
    apart, now = np.ones(roster.size, dtype=bool), start
    for _ in range(2):
        now = _learned(_among_strangers(start, strays, roster, apart, policy), seen, fixed, pairs)
        chance, _ = alone(total_bits(score(seen, fixed, now)), pairs)
        apart = np.bincount(pairs.person, weights=chance, minlength=roster.size) < 0.5
    return now


def _among_strangers(weights: Weights, strays: Strays, roster: Roster, among: Flags, policy: Policy) -> Weights:
    """The weights with u, and how alike one person's days are, as this site's strangers show them."""
    apart = strangers(
        strays,
        roster,
        among,
        policy,
        prior=weights.u,
        spread={name: u for name, (_, u) in weights.spread.items()},
        pseudo=weights.pseudo,
    )
    spread = {name: (m, apart.spread[name]) for name, (m, _) in weights.spread.items()}
    return replace(weights, u=weights.u | apart.u, spread=spread)


def _learned(start: Weights, seen: Seen, fixed: dict[str, Floats], pairs: Pairs) -> Weights:
    def expect(weights: Weights) -> tuple[Floats, Floats]:
        return alone(total_bits(score(seen, fixed, weights)), pairs)

    k = {name: seen.k[name].astype(np.float64) for name in AGREEMENTS}
    n = {name: seen.n[name].astype(np.float64) for name in AGREEMENTS}
    return learned(start, expect, k, n, seen.mechanism[:3], seen.digits)
