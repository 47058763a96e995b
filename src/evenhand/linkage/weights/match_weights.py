"""Match weights: the bits by which a piece of evidence speaks for one person against a random stranger.

Source: I. P. Fellegi and A. B. Sunter, A Theory for Record Linkage, JASA 64 (1969): w = log2(m / u), where m is
the chance of what is seen if the pair belongs together and u if it does not. Independent weights add up.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

__all__ = ["Floats", "agreement_bits", "share_bits"]

Floats = npt.NDArray[np.float64]


def agreement_bits(
    agreeing: npt.ArrayLike,
    trials: npt.ArrayLike,
    m: float,
    u: npt.ArrayLike,
) -> Floats:
    """Return the weight of `agreeing` out of `trials` agreements, each as likely as m if matched and u if not.

    Without trials the weight is 0. Source: binomial likelihood ratio.
    """
    n = np.asarray(trials, dtype=np.float64)
    bits, tried = np.zeros(n.shape), n > 0  # most pairs show nothing, and logarithms are dear
    k, u = (np.broadcast_to(given, n.shape)[tried] for given in (agreeing, u))
    bits[tried] = k * np.log2(m / u) + (n[tried] - k) * np.log2((1 - m) / (1 - u))
    return bits


def share_bits(
    count: npt.ArrayLike, total: npt.ArrayLike, share: npt.ArrayLike, usual: npt.ArrayLike, a: float = 2.0
) -> Floats:
    """Return the weight of a place: how often the person is there against everybody's `share` of it.

    `count` of the person's `total` punches were there; `usual` is what is expected of them without any, which
    counts as `a` punches.
    """
    m = (np.asarray(count) + a * np.asarray(usual)) / (np.asarray(total) + a)
    return np.asarray(np.log2(m / np.asarray(share)), dtype=np.float64)
