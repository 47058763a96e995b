"""Learn the weights from the site's own strays by expectation and maximisation, held back by what was believed before.

Source: A. P. Dempster, N. M. Laird, D. B. Rubin, JRSS B 39 (1977); W. E. Winkler (1988) for record linkage.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from evenhand.linkage.bits.match_weights import Floats
from evenhand.linkage.bits.weights import AGREEMENTS, OTHER, Weights
from evenhand.linkage.seen.strays import Ints

# what a person has decided is not up for learning
LEARNED = tuple(name for name in AGREEMENTS if name != "confirmed")

__all__ = ["learned", "maximise"]


def maximise(matched: Floats, agreeing: Floats, trials: Floats, prior: float, pseudo: float) -> float:
    """Return the chance of agreement that makes what is seen likeliest, each row counting as far as it is `matched`.

    `pseudo` observations of the `prior` keep it from running to 0 or 1.
    """
    return float(((matched * agreeing).sum() + pseudo * prior) / ((matched * trials).sum() + pseudo))


def learned(
    start: Weights,
    expect: Callable[[Weights], tuple[Floats, Floats]],
    k: dict[str, Floats],
    n: dict[str, Floats],
    mechanism: tuple[Ints, list[str], Floats],
    digits: Floats,
    *,
    rounds: int = 10,
) -> Weights:
    """Return the weights after learning m, the mixture of mechanisms and the share that nobody owns.

    `expect` gives P(person) a pair and P(nobody) a stray under some weights; one stray has one owner at most.
    Agreements of one pair count as `effective` at most, since one person's days are alike.
    """
    now = start
    for _ in range(rounds):
        chance, nobody = expect(now)
        now_m = dict(start.m)
        for name in LEARNED:
            scale = np.minimum(n[name], start.effective) / np.maximum(n[name], 1)
            now_m[name] = maximise(chance, k[name] * scale, n[name] * scale, start.m[name], start.pseudo)
        before = now
        now = replace(
            now,
            m=now_m,
            mechanisms=_mixture(start, now, chance, mechanism, digits),
            nobody=maximise(np.ones_like(nobody), nobody, np.ones_like(nobody), start.nobody, start.pseudo),
        )
        if abs(now.nobody - before.nobody) < 1e-3:
            break
    return now


def _mixture(
    start: Weights,
    now: Weights,
    chance: Floats,
    mechanism: tuple[Ints, list[str], Floats],
    digits: Floats,
) -> dict[str, float]:
    pair, kinds, likelihood = mechanism
    part = np.array([now.mechanisms[kind] for kind in kinds]) * likelihood if kinds else likelihood
    other = now.mechanisms[OTHER] * 10.0**-digits
    whole = other + np.bincount(pair, weights=part, minlength=len(chance))
    counts = {kind: start.pseudo * share for kind, share in start.mechanisms.items()}
    for kind, share in zip(kinds, (chance[pair] * part / whole[pair]).tolist(), strict=True):
        counts[kind] += share
    # strays that nothing explains may be nobody's as well as somebody's: their share cannot be learned from them
    counts.pop(OTHER)
    total = sum(counts.values())
    rest = 1 - start.mechanisms[OTHER]
    return {OTHER: start.mechanisms[OTHER], **{kind: rest * count / total for kind, count in counts.items()}}
