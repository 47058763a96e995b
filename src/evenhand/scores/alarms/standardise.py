"""Put daily values on one scale: centred, and divided by their long-run spread over all series."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.fit import MAD

__all__ = ["REACH", "left_packed", "standardise"]

Floats = npt.NDArray[np.float64]

REACH = 3.0
"""Standard deviations beyond which a value counts as no farther."""
LAGS = 5
FEWEST_STEPS, PRIOR_STEPS = 5, 8.0
MEDIAN_WORTH = 0.37
"""What a median of absolute values tells of a spread, in squares of as many: Huber (1981), Robust Statistics, 5.1."""


def standardise(raw: Floats, *, own: bool = False) -> tuple[Floats, float]:
    """Centre values, and divide them by their long-run spread over all series; with `own`, also by each one's own.

    A series' own spread counts as far as it has points: people differ in how steady they are.

    The spread comes from neighbouring points, so that a series that moves does not widen it; what neighbours have
    in common is added, as the median of the series, which one that moves does not decide.
    """
    packed = left_packed(raw)
    step = np.diff(packed, axis=1)
    if (~np.isnan(step)).sum() < 10:
        return raw, 1.0
    middle = float(np.nanmedian(raw))
    half = 0.5 * (MAD * float(np.nanmedian(np.abs(step)))) ** 2 or 1.0
    reach = REACH * np.sqrt(half)
    shared = [_covariance(packed, lag, reach) for lag in range(1, LAGS + 1)]
    spread = float(np.sqrt(max(half + shared[0] + 2 * sum(shared), half)))
    return np.asarray((raw - middle) / (spread * (_own_spread(step, half)[:, None] if own else 1.0))), spread


def _own_spread(step: Floats, half: float) -> Floats:
    """How wide each series is, in the spread of all: by its own steps, drawn to 1 where they are few."""
    count = (~np.isnan(step)).sum(axis=1)
    own = np.full(len(step), half)
    told = count >= FEWEST_STEPS
    own[told] = 0.5 * np.square(MAD * np.nanmedian(np.abs(step[told]), axis=1))
    worth = MEDIAN_WORTH * count
    return np.asarray(np.sqrt((PRIOR_STEPS + worth * own / half) / (PRIOR_STEPS + worth)))


def _covariance(packed: Floats, lag: int, reach: float) -> float:
    """Covariance of values `lag` points apart, about each series' own middle; 0 where no series is long enough."""
    told = (~np.isnan(packed)).sum(axis=1) >= 10 + lag
    if not told.any():
        return 0.0
    rows = packed[told]
    rows = np.clip(rows - np.nanmedian(rows, axis=1, keepdims=True), -reach, reach)
    return float(np.quantile(np.nanmean(rows[:, lag:] * rows[:, :-lag], axis=1), 0.5, method="lower"))


def left_packed(z: Floats) -> Floats:
    """Return the values without their gaps, each row from the left."""
    order = np.argsort(np.isnan(z), axis=1, kind="stable")
    return np.take_along_axis(z, order, axis=1)
