"""Learn the weights from the site's own strays by expectation and maximisation, held back by what was believed before.

Source: A. P. Dempster, N. M. Laird, D. B. Rubin, JRSS B 39 (1977); W. E. Winkler (1988) for record linkage.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from evenhand.linkage.comparisons.compare import Comparisons
from evenhand.linkage.strays import Ints
from evenhand.linkage.weights.match_weights import Floats
from evenhand.linkage.weights.mixing import learned_mixing
from evenhand.linkage.weights.parameters import AGREEMENTS, ERROR_KINDS, LENGTHS, OTHER, Weights
from evenhand.linkage.weights.scoring import error_shares

# what a person has decided is not up for learning
LEARNED = tuple(name for name in AGREEMENTS if name not in {"days", "parity", "confirmed"})
CLOSE = 1e-3

__all__ = ["learned", "maximise"]


def maximise(matched: Floats, agreeing: Floats, trials: Floats, prior: float, pseudo: float) -> float:
    """Return the chance of agreement that makes what is seen likeliest, each row counting as far as it is `matched`.

    `pseudo` observations of the `prior` keep it from running to 0 or 1.
    """
    return float(((matched * agreeing).sum() + pseudo * prior) / ((matched * trials).sum() + pseudo))


def learned(
    start: Weights,
    compared: Comparisons,
    expect: Callable[[Weights], tuple[Floats, Floats]],
    *,
    rounds: int = 10,
) -> Weights:
    """Return the weights after learning m, the mixture of errors and the share that is nobody's.

    `expect` gives P(person) a pair and P(nobody) a stray under some weights; one stray is one person's at most.
    Agreements of one pair count as `effective` at most, since one person's days are alike.
    """
    now = start
    for _ in range(rounds):
        chance, nobody = expect(now)
        now_m = dict(start.m)
        mixed = {}
        for name, (m, u) in start.mixed.items():
            counts = compared.counts[name]
            mixed[name] = (learned_mixing(counts.agreements, counts.trials, chance, m, start.pseudo), u)
        for name in LEARNED:
            k, n = compared.counts[name].agreements, compared.counts[name].trials
            scale = np.minimum(n, start.effective) / np.maximum(n, 1)
            now_m[name] = maximise(chance, k * scale, n * scale, start.m[name], start.pseudo)
        before = now
        now = replace(
            now,
            m=now_m,
            mixed=mixed,
            lengths=_lengths(compared.length, nobody, start.pseudo_lengths),
            errors=_mixture(start, now, chance, compared),
            nobody=maximise(np.ones_like(nobody), nobody, np.ones_like(nobody), start.nobody, start.pseudo_nobody),
        )
        if abs(now.nobody - before.nobody) < CLOSE:
            break
    return now


def _lengths(length: Ints, nobody: Floats, pseudo: float) -> tuple[Floats, Floats]:
    """The shares by LENGTHS of somebody's strays and of nobody's, held back by those of all strays together."""

    def counted(weight: Floats) -> Floats:
        return np.bincount(length, weights=weight, minlength=len(LENGTHS) + 1).astype(np.float64)

    every = counted(np.ones(len(nobody))) + 1
    before = pseudo * every / every.sum()
    theirs, nobodys = counted(1 - nobody), counted(nobody)
    return (theirs + before) / (theirs.sum() + pseudo), (nobodys + before) / (nobodys.sum() + pseudo)


def _mixture(start: Weights, now: Weights, chance: Floats, compared: Comparisons) -> dict[str, float]:
    errors = compared.errors
    part = error_shares(now)[errors.kind] * errors.likelihood
    other = now.errors[OTHER] * 10.0**-compared.digits
    whole = other + np.bincount(errors.pair, weights=part, minlength=len(chance))
    share = chance[errors.pair] * part / whole[errors.pair]
    counts = start.pseudo * error_shares(start) + np.bincount(errors.kind, weights=share, minlength=len(ERROR_KINDS))
    unlike = start.pseudo * start.errors[OTHER] + float((chance * ~compared.is_held * other / whole).sum())
    kept = counts / (counts.sum() + unlike)
    return {**dict(zip(ERROR_KINDS, kept.tolist(), strict=True)), OTHER: unlike / (counts.sum() + unlike)}
