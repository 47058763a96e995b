"""How long a chart runs before it alarms: average run lengths, by integral equation and by Markov chain.

Source: Page (1954) and Vance (1986) for the CUSUM's integral equation, Crowder (1987) for the EWMA's, Brook and
Evans (1972), Biometrika 59:539-549, for chains.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import numpy.typing as npt

__all__ = ["cusum_run_length", "ewma_run_length", "refusal_run_length", "widening_run_length"]

Floats = npt.NDArray[np.float64]
NODES = 64
"""Points of quadrature: the kernels are smooth, and 64 agree with 400 to seven digits up to runs of 30 million."""


@lru_cache(maxsize=4096)
def cusum_run_length(k: float, h: float, shift: float = 0.0) -> float:
    """Return the run length of the one-sided CUSUM that alarms above h, after a shift of the mean."""
    from scipy.special import ndtr

    points, weights = _legendre(NODES)
    y, w = h / 2 * (points + 1), h / 2 * weights
    kernel = _density(y[None, :] + k - y[:, None] - shift) * w[None, :]
    to_zero = ndtr(k - y - shift)
    left = np.eye(NODES + 1)
    left[1:, 1:] -= kernel
    left[1:, 0] -= to_zero
    left[0, 0] -= ndtr(k - shift)
    left[0, 1:] -= _density(y + k - shift) * w
    lengths = np.linalg.solve(left, np.ones(NODES + 1))
    return float(lengths[0])


@lru_cache(maxsize=1024)
def ewma_run_length(weight: float, limit: float) -> float:
    """Return the run length in control of the two-sided EWMA whose limits widen with the average's exact spread."""
    steps = int(np.ceil(np.log(1e-7) / np.log(1 - weight) / 2))
    spread = np.sqrt(weight / (2 - weight) * (1 - (1 - weight) ** (2 * np.arange(1, steps + 1))))
    return widening_run_length(weight, limit * spread)


def widening_run_length(weight: float, half: Floats, shift: float = 0.0) -> float:
    """Return the run length of the EWMA within +-`half` (steps,), of which the last holds for ever.

    Solved for the last half-width, and from there back to the start, at 0.
    """
    points, weights = _legendre(NODES)

    def moves(origin: Floats, width: float) -> Floats:
        there = width * points
        return _density((there - (1 - weight) * origin) / weight - shift) * width * weights / weight

    lengths = np.linalg.solve(np.eye(NODES) - moves(half[-1] * points[:, None], half[-1]), np.ones(NODES))
    for here, width in zip(half[-2::-1], half[:0:-1], strict=True):
        lengths = 1 + moves(here * points[:, None], width) @ lengths
    return float(1 + moves(np.zeros(1), half[0]) @ lengths)


@lru_cache(maxsize=4096)
def refusal_run_length(rate: float, m: int, limit: int) -> float:
    """Return how many presentations the CUSUM of refusals runs before it reaches `limit`, at a rate of refusal.

    Each state leads one down or m - 1 up, so its length follows from two others: L(s) = 1 + (1-p) L(s-1) +
    p L(s+m-1). Solved as a banded system, which stays exact where the lengths are huge.
    """
    from scipy.linalg import solve_banded

    band = np.zeros((m + 1, limit))
    band[m - 1, :] = 1.0
    band[m - 1, 0] -= 1 - rate
    band[m, :-1] = -(1 - rate)
    if m - 1 < limit:
        band[0, m - 1 :] = -rate
    lengths = solve_banded((1, m - 1), band, np.ones(limit))
    return float(lengths[0])


@lru_cache(maxsize=8)
def _legendre(n: int) -> tuple[Floats, Floats]:
    points, weights = np.polynomial.legendre.leggauss(n)
    return points, weights


def _density(x: Floats) -> Floats:
    return np.asarray(np.exp(-0.5 * x * x) / np.sqrt(2 * np.pi))
