"""Intervals of a share of independent trials, and what few trials can show.

Source: Wilson (1927); Clopper and Pearson (1934); Newcombe (1998), Statistics in Medicine 17:857-872.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import numpy.typing as npt

__all__ = ["most_errors_free", "relative_half_width", "wilson"]

Floats = npt.NDArray[np.float64]


def _normal(confidence: float) -> float:
    from scipy.special import ndtri

    return float(ndtri(0.5 + confidence / 2))


def wilson(errors: Any, trials: Any, confidence: float = 0.95) -> tuple[Floats, Floats]:
    """Return the lower and upper ends of Wilson's score interval; 0 and 1 without trials. Takes arrays or numbers."""
    x, n = np.asarray(errors, dtype=np.float64), np.asarray(trials, dtype=np.float64)
    z = _normal(confidence)
    with np.errstate(divide="ignore", invalid="ignore"):
        share = x / n
        middle = (share + z * z / (2 * n)) / (1 + z * z / n)
        half = z / (1 + z * z / n) * np.sqrt(share * (1 - share) / n + z * z / (4 * n * n))
    low, high = np.where(x > 0, middle - half, 0.0), np.where(x < n, middle + half, 1.0)
    return np.where(n > 0, np.maximum(low, 0), 0.0), np.where(n > 0, np.minimum(high, 1), 1.0)


def most_errors_free(trials: float, confidence: float = 0.95) -> float:
    """Return the highest rate that no error in `trials` independent trials leaves credible: the rule of 3.

    The rule itself says 3 / trials at 95 %; this is its exact form. Source: ISO/IEC 19795-1 (rule of 3).
    """
    return 1.0 if trials <= 0 else float(1 - (1 - confidence) ** (1 / trials))


def relative_half_width(errors: float, confidence: float = 0.9) -> float:
    """Return how far the rate may be off, as a share of itself: 30 errors give about 30 % at 90 %.

    Source: Doddington et al. (2000), Speech Communication 31:225-254 (rule of 30).
    """
    return math.inf if errors <= 0 else _normal(confidence) / math.sqrt(errors)
