"""How much people differ in their rate of refusal.

Source: Schuckers (2003), Int. J. Image and Graphics (beta-binomial for repeated attempts; abstract read).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

__all__ = ["BetaBinomial", "fit_beta_binomial"]

Ints = npt.NDArray[np.int64]

ALIKE = 1e6
"""A sum of both parameters above which people do not differ: their rates then scatter by less than a thousandth."""


@dataclass(frozen=True)
class BetaBinomial:
    """Persons' rates follow Beta(a, b); `log_likelihood` leaves no constant out."""

    a: float
    b: float
    log_likelihood: float


def fit_beta_binomial(errors: Ints, trials: Ints, weights: Ints | None = None) -> BetaBinomial | None:
    """Return the most likely beta-binomial of persons' errors and trials (persons,); None where it has no maximum.

    `weights` counts equal rows. Without errors, or where trials agree no more than by chance, people are not
    seen to differ and there is nothing to fit.
    """
    from scipy.optimize import minimize
    from scipy.special import betaln, gammaln

    times = np.ones(len(errors)) if weights is None else weights.astype(np.float64)
    total = float((times * trials).sum())
    if total == 0 or not 0 < float((times * errors).sum()) < total or not bool((trials > 1).any()):
        return None
    chosen = gammaln(trials + 1) - gammaln(errors + 1) - gammaln(trials - errors + 1)

    def minus_log_likelihood(at: npt.NDArray[np.float64]) -> float:
        rate, precision = 1 / (1 + np.exp(-at[0])), np.exp(at[1])
        a, b = rate * precision, (1 - rate) * precision
        return -float((times * (chosen + betaln(errors + a, trials - errors + b) - betaln(a, b))).sum())

    start = float((times * errors).sum()) / total
    best = minimize(
        minus_log_likelihood,
        np.array([np.log(start / (1 - start)), 2.0]),
        method="Nelder-Mead",
        bounds=[(None, None), (None, float(np.log(2 * ALIKE)))],
        # finer than this the rounding of a likelihood of tens of thousands shows, and the search would not end
        options={"xatol": 1e-6, "fatol": 1e-6, "maxiter": 4000},
    )
    rate, precision = float(1 / (1 + np.exp(-best.x[0]))), float(np.exp(best.x[1]))
    if precision > ALIKE:
        return None
    return BetaBinomial(rate * precision, (1 - rate) * precision, -float(best.fun))
