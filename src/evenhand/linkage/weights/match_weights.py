"""Match weights: the bits by which a piece of evidence speaks for one person against a random stranger.

Source: I. P. Fellegi and A. B. Sunter, A Theory for Record Linkage, JASA 64 (1969): w = log2(m / u), where m is
the chance of what is seen if the pair belongs together and u if it does not. Independent weights add up.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import numpy.typing as npt

__all__ = ["Floats", "agreement_bits", "share_bits"]

Floats = npt.NDArray[np.float64]


def agreement_bits(
    agreeing: npt.ArrayLike,
    trials: npt.ArrayLike,
    m: float,
    u: npt.ArrayLike,
    *,
    spread: tuple[float, float] = (math.inf, math.inf),
) -> Floats:
    """Return the weight of `agreeing` out of `trials` agreements, each as likely as m if matched and u if not.

    `spread` are the concentrations of m and of u from pair to pair (infinite: every pair alike). Days of one
    person are alike, so that many of them say less than as many strangers would; a finite concentration says so.
    Without trials the weight is 0.
    Source: binomial likelihood ratio; with finite concentration, the Polya (beta-binomial) distribution.
    """
    k, n = np.asarray(agreeing, dtype=np.float64), np.asarray(trials, dtype=np.float64)
    return (_log_chance(k, n, np.asarray(m), spread[0]) - _log_chance(k, n, np.asarray(u), spread[1])) / math.log(2)


def share_bits(
    count: npt.ArrayLike, total: npt.ArrayLike, share: npt.ArrayLike, usual: npt.ArrayLike, a: float = 2.0
) -> Floats:
    """Return the weight of a place: how often the person is there against everybody's `share` of it.

    `count` of the person's `total` punches were there; `usual` is what is expected of them without any, which
    counts as `a` punches.
    """
    m = (np.asarray(count) + a * np.asarray(usual)) / (np.asarray(total) + a)
    return np.asarray(np.log2(m / np.asarray(share)), dtype=np.float64)


def _log_chance(k: Floats, n: Floats, p: Any, spread: float) -> Floats:
    if math.isinf(spread):
        return np.asarray(k * np.log(p) + (n - k) * np.log1p(-p))
    from scipy.special import betaln

    a, b = spread * p, spread * (1 - p)
    return np.asarray(betaln(a + k, b + n - k) - betaln(a, b))
