"""Rates whose trials come in clusters: several presentations of one person are not several people.

Source: Mansfield and Wayman (2002), Best Practices 2.01, appendix, after Cochran (ratio estimator, from memory);
Korn and Graubard (1998), Survey Methodology 24 (interval at the effective number of trials, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.rates.intervals import wilson

__all__ = ["Rates", "clustered_rates", "design_effect", "dyadic_variance"]

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


def design_effect(correlation: float, trials_each: float) -> float:
    """Return by how much repeated trials of the same people inflate the variance. Source: Kish (1965)."""
    return 1 + (trials_each - 1) * correlation


def dyadic_variance(errors: npt.ArrayLike) -> tuple[float, float]:
    """Return rate and variance of a false match matrix (probe person, reference person); its diagonal is not used.

    Every two comparisons that share a person, in any role, may agree. With few people the sum can fall below the
    variance of independent trials; the larger of the two is returned.
    Source: Aronow, Samii and Assenova (2015), dyadic cluster-robust variance (from memory).
    """
    matrix = np.array(errors, dtype=np.float64)
    n = len(matrix)
    comparisons = n * (n - 1)
    rate = (matrix.sum() - np.trace(matrix)) / comparisons
    residual = matrix - rate
    np.fill_diagonal(residual, 0)
    # pairs of comparisons that share a person: through either person, less those that share both
    by_person = residual.sum(axis=0) + residual.sum(axis=1)
    both = residual + residual.T
    shared = np.square(by_person).sum() - np.square(both).sum() / 2
    return float(rate), float(max(shared / comparisons**2, rate * (1 - rate) / comparisons))
