"""Put daily values on one scale: centred, and divided by their long-run spread over all series."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.fit import MAD

__all__ = ["REACH", "standardise"]

Floats = npt.NDArray[np.float64]

REACH = 3.0
"""Standard deviations beyond which a value counts as no farther."""
LAGS = 5


def standardise(raw: Floats) -> tuple[Floats, float]:
    """Centre values, and divide them by their long-run spread over all series.

    The spread comes from neighbouring points, so that a series that moves does not widen it; what neighbours have
    in common is added, as the median of the series, which one that moves does not decide.
    """
    packed = _left_packed(raw)
    step = np.diff(packed, axis=1)
    if (~np.isnan(step)).sum() < 10:
        return raw, 1.0
    middle = float(np.nanmedian(raw))
    half = 0.5 * (MAD * float(np.nanmedian(np.abs(step)))) ** 2 or 1.0
    reach = REACH * np.sqrt(half)
    shared = [_covariance(packed, lag, reach) for lag in range(1, LAGS + 1)]
    spread = float(np.sqrt(max(half + shared[0] + 2 * sum(shared), half)))
    return np.asarray((raw - middle) / spread), spread


def _covariance(packed: Floats, lag: int, reach: float) -> float:
    """Covariance of values `lag` points apart, about each series' own middle; 0 where no series is long enough."""
    told = (~np.isnan(packed)).sum(axis=1) >= 10 + lag
    if not told.any():
        return 0.0
    rows = packed[told]
    rows = np.clip(rows - np.nanmedian(rows, axis=1, keepdims=True), -reach, reach)
    return float(np.median(np.nanmean(rows[:, lag:] * rows[:, :-lag], axis=1)))


def _left_packed(z: Floats) -> Floats:
    """The values without their gaps, each row from the left."""
    order = np.argsort(np.isnan(z), axis=1, kind="stable")
    return np.take_along_axis(z, order, axis=1)
