"""Step or drift: whether a change came at once or grew.

A step is a ring, a bandage, a moved part or a smear; a drift is weight, age, season or dirt that gathers.

Source: likelihood ratio of two change-point models of equal size (Hinkley 1970, Biometrika 57:1-17, for the step).
"""

from __future__ import annotations

from typing import Literal

import numpy as np
import numpy.typing as npt

__all__ = ["Shape", "shape_of"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Shape = Literal["step", "drift", "unclear"]

FEWEST = 4
ODDS = 1.5
"""Log-likelihood by which one must beat the other, about 9 to 2."""
GROWS = (14.0, 28.0, 56.0, np.inf)
"""Days that a drift grows before it holds; one that grew for less can hardly be told from a step."""


def shape_of(z: Floats, day: Ints) -> tuple[Shape, int]:
    """Return whether independent standard values of days (points,) stepped up or drifted up, and from which point.

    Both models start at 0, change at the point that suits them best, and have one size: a level that holds from
    there on, or a slope, which may come to hold after some weeks. With fewer than four points since the change
    nothing can be said.
    """
    since = (day[None, :] - day[:-1, None] + 1).astype(np.float64)
    step, step_from = _best(z, (since > 0).astype(np.float64))
    drift, drift_from = max((_best(z, _ramp(since, grows)) for grows in GROWS), default=(-np.inf, 0))
    if len(z) - min(step_from, drift_from) < FEWEST or abs(step - drift) < ODDS:
        return "unclear", step_from if step >= drift else drift_from
    return ("step", step_from) if step > drift else ("drift", drift_from)


def _ramp(since: Floats, grows: float) -> Floats:
    return np.maximum(since, 0.0) if np.isinf(grows) else np.clip(since / grows, 0.0, 1.0)


def _best(z: Floats, patterns: Floats) -> tuple[float, int]:
    """The log-likelihood gained by the pattern (begins, points) that suits best, and where it begins."""
    if not len(patterns):
        return -np.inf, 0
    gain = np.square(np.maximum(patterns @ z, 0.0)) / (2 * np.square(patterns).sum(axis=1))
    begins = int(np.argmax(gain))
    return float(gain[begins]), begins
