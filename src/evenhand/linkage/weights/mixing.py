"""How often something happens differs from person to person: a distribution of chances, learned without a shape.

One person's days are alike: whoever is on leave is silent on all of them, so that ten silent days of one stretch of
leave are not ten independent facts. Three days lie within one stretch of leave far oftener than twelve over two months:
how the chances lie is learned by how many days were compared. Source: N. Laird, Nonparametric maximum likelihood
estimation of a mixing distribution, JASA 73 (1978): the distribution of chances that makes the counts likeliest, by
expectation and maximisation over fixed points.
"""

from __future__ import annotations

import numpy as np

from evenhand.linkage.strays import Ints
from evenhand.linkage.weights.match_weights import Floats

__all__ = ["CHANCES", "TRIALS", "learned_by_trials", "learned_mixing", "mixed_bits", "shaped"]

CHANCES = np.array([0.003, 0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 0.997])
"""The chances that are told apart; nothing is certain."""
TRIALS = np.array([1, 2, 3, 5, 8, 12])
"""Up to how many trials the distributions differ; the last is for all above, too."""
ROUNDS = 60


def shaped(a: float, b: float) -> Floats:
    """Return the Beta distribution of these parameters over CHANCES."""
    from scipy.special import betainc

    bounds = np.concatenate([[0.0], (CHANCES[1:] + CHANCES[:-1]) / 2, [1.0]])
    return np.asarray(np.diff(betainc(a, b, bounds)))


def mixed_bits(agreeing: Ints, trials: Ints, matched: Floats, unmatched: Floats) -> Floats:
    """Return the weight of `agreeing` out of `trials` between two distributions over CHANCES.

    Each is one for all, or one for each of TRIALS (TRIALS, CHANCES). Without trials the weight is 0.
    """
    most = int(trials.max(initial=0)) + 1
    k, n = np.divmod(np.arange(most * most), most)
    table = np.zeros(most * most)
    possible = k <= n
    chance, place = _chances(k[possible], n[possible]), _place(n[possible])
    of = (np.broadcast_to(given, (len(TRIALS), len(CHANCES)))[place] for given in (matched, unmatched))
    matches, others = (np.log2((chance * shares).sum(axis=1)) for shares in of)
    table[possible] = matches - others
    return np.asarray(table[agreeing * most + trials])


def learned_mixing(agreeing: Ints, trials: Ints, counts: Floats, before: Floats, pseudo: float) -> Floats:
    """Return the distribution over CHANCES behind what is seen, each row counting as often as `counts` says.

    `pseudo` rows of the distribution `before` hold it back.
    """
    most = int(trials.max(initial=0)) + 1
    by_cell = np.bincount(agreeing * most + trials, weights=counts, minlength=most * most)
    cell = np.flatnonzero((by_cell > 0) & (np.arange(len(by_cell)) % most > 0))
    often, (k, n) = by_cell[cell], np.divmod(cell, most)
    chance, now = _chances(k, n), before
    for _ in range(ROUNDS):
        share = chance * now
        share /= share.sum(axis=1, keepdims=True)
        now = (often @ share + pseudo * before) / (often.sum() + pseudo)
    return np.asarray(now)


def learned_by_trials(agreeing: Ints, trials: Ints, counts: Floats, before: Floats, pseudo: float) -> Floats:
    """Return `learned_mixing` for each of TRIALS (TRIALS, CHANCES), each held back by what all of them show."""
    of_all = learned_mixing(agreeing, trials, counts, before, pseudo)
    place = _place(trials)
    return np.array(
        [
            learned_mixing(agreeing[place == at], trials[place == at], counts[place == at], of_all, pseudo)
            for at in range(len(TRIALS))
        ]
    )


def _place(trials: Ints) -> Ints:
    return np.minimum(np.searchsorted(TRIALS, trials), len(TRIALS) - 1)


def _chances(k: Ints, n: Ints) -> Floats:
    """P(k of n) under each of CHANCES, but for the binomial factor, which all share."""
    return np.asarray(CHANCES ** k[:, None] * (1 - CHANCES) ** (n - k)[:, None])
