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
Shape = Literal["step", "drift", "unclear"]

FEWEST = 4
ODDS = 1.5
"""Log-likelihood by which one must beat the other, about 9 to 2."""


def shape_of(z: Floats, at: int) -> tuple[Shape, int]:
    """Return whether independent standard values up to an alarm at `at` stepped up or drifted up, and from where.

    Both models start at 0, change at the point that suits them best, and have one size: a level that holds from
    there on, or a slope. With fewer than four points since the change nothing can be said.
    """
    values = z[: at + 1]
    best: dict[str, tuple[float, int]] = {"step": (-np.inf, 0), "drift": (-np.inf, 0)}
    for begins in range(len(values) - 1):
        since = values[begins:]
        ramp = np.arange(1, len(since) + 1, dtype=np.float64)
        for name, pattern in (("step", np.ones(len(since))), ("drift", ramp)):
            gain = max(float(pattern @ since), 0.0) ** 2 / (2 * float(pattern @ pattern))
            best[name] = max(best[name], (gain, begins))
    (step, step_from), (drift, drift_from) = best["step"], best["drift"]
    if len(values) - min(step_from, drift_from) < FEWEST or abs(step - drift) < ODDS:
        return "unclear", step_from if step >= drift else drift_from
    return ("step", step_from) if step > drift else ("drift", drift_from)
