"""Rates whose trials come in clusters: several presentations of one person are not several people.

Source: Mansfield and Wayman (2002), Best Practices 2.01, appendix, after Cochran (ratio estimator, from memory);
Korn and Graubard (1998), Survey Methodology 24 (interval at the effective number of trials, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.rates.intervals import wilson

__all__ = ["Rates", "clustered_rates"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Rates:
    """One rate per group, as columns (groups,); `variance` is nan where there is but one cluster."""

    errors: Ints
    trials: Ints
    clusters: Ints
    rate: Floats
    variance: Floats
    effective_trials: Floats
    low: Floats
    high: Floats


def clustered_rates(
    group: npt.NDArray[np.integer], errors: Ints, trials: Ints, groups: int, confidence: float = 0.95
) -> Rates:
    """Return the rate of each group from its clusters' errors and trials (clusters,).

    Wilson's interval at the effective number of trials, shortened for few clusters by (z/t)^2 and never longer
    than the trials made. Without any error, nothing says that trials of one cluster agree less than wholly: the
    rule of 3 then counts clusters, people not presentations. So it does where every trial erred. A single
    cluster counts as one trial.
    """
    from scipy.special import ndtri, stdtrit

    used = trials > 0
    group, errors, trials = group[used], errors[used], trials[used]
    n = np.bincount(group, minlength=groups)
    m = np.bincount(group, weights=trials, minlength=groups)
    a = np.bincount(group, weights=errors, minlength=groups)
    with np.errstate(divide="ignore", invalid="ignore"):
        rate = a / m
        spread = np.bincount(group, weights=np.square(errors - rate[group] * trials), minlength=groups)
        variance = np.where(n > 1, n / (n - 1) * spread / np.square(m), np.nan)
        effective = np.minimum(rate * (1 - rate) / variance, m)
        t = stdtrit(np.maximum(n - 1, 1), 0.5 + confidence / 2)
        corrected = np.minimum(effective * np.square(ndtri(0.5 + confidence / 2) / t), m)
        free = 1 - (1 - confidence) ** (1 / n)
    silent = (n < 2) | (a == 0) | (a == m)
    effective = np.where(silent, n, effective)
    corrected = np.where(silent, n, corrected)
    low, high = wilson(np.nan_to_num(rate) * corrected, corrected, confidence)
    low = np.where((a == m) & (n > 0), 1 - free, np.where(a == 0, 0.0, low))
    high = np.where((a == 0) & (n > 0), free, np.where((a == m) | (n == 0), 1.0, high))
    return Rates(a.astype(np.int64), m.astype(np.int64), n, rate, variance, effective, low, high)
