"""When a level that drifts and wanders first reaches a limit.

Source: inverse Gaussian first-passage time of Brownian motion with drift; Chhikara and Folks (1989).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

__all__ = ["chance_passed", "passage_days"]

Floats = npt.NDArray[np.float64]


def chance_passed(days: npt.ArrayLike, distance: npt.ArrayLike, drift: npt.ArrayLike, diffusion: float) -> Floats:
    """Return the chance that the level has touched the limit `distance` above it within `days`.

    `drift` is per day and `diffusion` the variance gained per day; all but this may be arrays. A distance that is not
    above 0 is passed already.
    """
    from scipy.special import log_ndtr, ndtr

    t, a, v = (np.asarray(given, dtype=np.float64) for given in (days, distance, drift))
    s = np.sqrt(max(diffusion, 1e-12) * np.maximum(t, 1e-12))
    again = np.exp(np.minimum(2 * v * a / max(diffusion, 1e-12) + log_ndtr((-v * t - a) / s), 0.0))
    passed = np.minimum(ndtr((v * t - a) / s) + again, 1.0)
    return np.asarray(np.where(a <= 0, 1.0, np.where(t > 0, passed, 0.0)))


def passage_days(
    distance: Floats, drift: Floats, weight: Floats, diffusion: float, *, horizon: int = 730
) -> tuple[float, float, float]:
    """Return the days by which the limit is passed with chance .05, .5 and .95; inf where beyond the horizon.

    Distances and drifts (cases,) are what may be so, with `weight`; the chance is their average.
    """
    shares = weight / weight.sum()

    def passed_by(wanted: float) -> float:
        # the chance never falls with time, so halving finds the first whole day
        low, high = 0, horizon + 1
        while high - low > 1:
            middle = (low + high) // 2
            is_passed = float(chance_passed(middle, distance, drift, diffusion) @ shares) >= wanted
            low, high = (low, middle) if is_passed else (middle, high)
        return float(high) if high <= horizon else np.inf

    low, middle, high = (passed_by(wanted) for wanted in (0.05, 0.5, 0.95))
    return low, middle, high
