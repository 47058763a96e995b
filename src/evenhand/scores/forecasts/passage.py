"""When a level that drifts and wanders first reaches a limit.

Source: inverse Gaussian first-passage time of Brownian motion with drift; Chhikara and Folks (1989).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

__all__ = ["chance_ever", "chance_passed", "passage_days"]

Floats = npt.NDArray[np.float64]


def chance_passed(days: npt.ArrayLike, distance: float, drift: npt.ArrayLike, wander: float) -> Floats:
    """Return the chance that the level has touched the limit `distance` above it within `days`.

    `drift` is per day and `wander` the variance gained per day; both the times and the drifts may be arrays.
    """
    from scipy.special import log_ndtr, ndtr

    t = np.asarray(days, dtype=np.float64)
    v = np.asarray(drift, dtype=np.float64)
    if distance <= 0:
        return np.ones(np.broadcast(t, v).shape)
    s = np.sqrt(max(wander, 1e-12) * np.maximum(t, 1e-12))
    again = np.exp(2 * v * distance / max(wander, 1e-12) + log_ndtr((-v * t - distance) / s))
    return np.asarray(np.where(t > 0, ndtr((v * t - distance) / s) + again, 0.0))


def chance_ever(distance: float, drift: float, wander: float) -> float:
    """Return the chance of ever touching the limit: 1 for a drift towards it."""
    return 1.0 if drift >= 0 else float(np.exp(2 * drift * distance / wander))


def passage_days(
    distance: float, slope: float, slope_sd: float, wander: float, *, horizon: int = 730
) -> tuple[float, float, float]:
    """Return the days by which the limit is passed with chance .05, .5 and .95; inf where beyond the horizon.

    The chance is averaged over what is not known of the slope, a normal distribution cut off at 0.
    """
    from scipy.special import ndtr, ndtri

    quantiles = (np.arange(25) + 0.5) / 25
    negative = ndtr(-slope / slope_sd) if slope_sd > 0 else 0.0
    slopes = slope + slope_sd * ndtri(negative + quantiles * (1 - negative)) if slope_sd > 0 else np.full(25, slope)
    days = np.arange(1, horizon + 1, dtype=np.float64)
    passed = chance_passed(days[:, None], distance, slopes[None, :], wander).mean(axis=1)
    found = [int(np.searchsorted(passed, wanted)) for wanted in (0.05, 0.5, 0.95)]
    low, middle, high = (float(days[i]) if i < horizon else np.inf for i in found)
    return low, middle, high
