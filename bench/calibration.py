"""How good probabilities were: Brier score with its parts, log loss, and a reliability table.

Source: G. W. Brier (1950); A. H. Murphy, A New Vector Partition of the Probability Score (1973).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

__all__ = ["Calibration", "calibration"]


@dataclass(frozen=True)
class Calibration:
    """brier = reliability - resolution + uncertainty where forecasts are grouped by their value.

    `expected_error` is the mean distance of forecast and frequency; `table` has (forecast, how many, frequency).
    Lower is better for all but `resolution`.
    """

    brier: float
    reliability: float
    resolution: float
    uncertainty: float
    log_loss: float
    expected_error: float
    table: tuple[tuple[float, int, float], ...]


def calibration(happened: npt.ArrayLike, forecast: npt.ArrayLike, *, edges: Sequence[float] = ()) -> Calibration:
    """Return how the forecasts fared; they are grouped by value, or into bins between `edges` by their mean."""
    y, p = np.asarray(happened, dtype=np.float64), np.asarray(forecast, dtype=np.float64)
    key = np.digitize(p, edges) if len(edges) else np.unique(p, return_inverse=True)[1]
    groups = [np.flatnonzero(key == group) for group in np.unique(key)]
    table = [(float(p[rows].mean()), len(rows), float(y[rows].mean())) for rows in groups]
    n, base = max(len(p), 1), float(y.mean()) if len(y) else 0.0
    clipped = np.clip(p, 1e-15, 1 - 1e-15)
    return Calibration(
        brier=float(((p - y) ** 2).mean()) if len(p) else 0.0,
        reliability=sum(size * (said - seen) ** 2 for said, size, seen in table) / n,
        resolution=sum(size * (seen - base) ** 2 for _, size, seen in table) / n,
        uncertainty=base * (1 - base),
        log_loss=float(-(y * np.log(clipped) + (1 - y) * np.log1p(-clipped)).mean()) if len(p) else 0.0,
        expected_error=sum(size * abs(said - seen) for said, size, seen in table) / n,
        table=tuple(table),
    )
