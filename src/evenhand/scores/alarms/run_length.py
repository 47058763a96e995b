"""How long a chart runs before it alarms: average run lengths, by integral equation and by Markov chain.

Source: Page (1954) and Vance (1986) for the CUSUM's integral equation, Crowder (1987) for the EWMA's, Brook and
Evans (1972), Biometrika 59:539-549, for chains; Lucas and Crosier (1982) for two sides and headstarts.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import numpy.typing as npt

__all__ = [
    "cusum_run_length",
    "ewma_exact_run_length",
    "ewma_run_length",
    "poisson_cusum_run_length",
    "refusal_run_length",
    "shewhart_run_length",
    "siegmund",
    "two_sided_run_length",
]

Floats = npt.NDArray[np.float64]
NODES = 200
FEWER = 100  # an average's density is smooth over its limits, and there may be hundreds of steps


def shewhart_run_length(limit: float, shift: float = 0.0) -> float:
    """Return the run length of a chart that alarms when one value lies beyond +-limit."""
    from scipy.special import ndtr

    return float(1 / (ndtr(-limit + shift) + ndtr(-limit - shift)))


@lru_cache(maxsize=4096)
def cusum_run_length(k: float, h: float, shift: float = 0.0, headstart: float = 0.0) -> float:
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
    at = 1 + lengths[0] * ndtr(k - headstart - shift)
    return float(at + (_density(y + k - headstart - shift) * w) @ lengths[1:])


def two_sided_run_length(k: float, h: float, shift: float = 0.0, headstart: float = 0.0) -> float:
    """Return the run length of the two CUSUMs of both sides, each with the same headstart."""
    up, up_fast = cusum_run_length(k, h, shift), cusum_run_length(k, h, shift, headstart)
    down, down_fast = cusum_run_length(k, h, -shift), cusum_run_length(k, h, -shift, headstart)
    return (down * up_fast + up * down_fast - up * down) / (up + down)


def siegmund(k: float, h: float, shift: float = 0.0) -> float:
    """Return Siegmund's approximation of the one-sided CUSUM's run length, good to 1 % for shifts up to 1."""
    d, b = shift - k, h + 1.166
    return b * b if d == 0 else (np.exp(-2 * d * b) + 2 * d * b - 1) / (2 * d * d)


@lru_cache(maxsize=1024)
def ewma_run_length(weight: float, limit: float, shift: float = 0.0, headstart: float = 0.0) -> float:
    """Return the run length of the two-sided EWMA with fixed limits +-`limit` standard deviations of its average.

    `headstart` is the share of the limit at which an upper and a lower average start. These two always differ by
    what is left of the headstart, so both alarm as one average would whose limits are narrower by that.
    """
    half = limit * np.sqrt(weight / (2 - weight))
    if headstart == 0:
        return _widening_run_length(weight, np.array([half]), shift)
    steps = int(np.ceil(np.log(1e-7) / np.log(1 - weight)))
    left = headstart * (1 - weight) ** np.arange(1, steps + 1)
    return _widening_run_length(weight, half * (1 - left), shift)


@lru_cache(maxsize=1024)
def ewma_exact_run_length(weight: float, limit: float, shift: float = 0.0) -> float:
    """Return the run length where the limits widen with the average's exact spread."""
    steps = int(np.ceil(np.log(1e-7) / np.log(1 - weight)))
    spread = np.sqrt(weight / (2 - weight) * (1 - (1 - weight) ** (2 * np.arange(1, steps + 1))))
    return _widening_run_length(weight, limit * spread, shift)


def _widening_run_length(weight: float, half: Floats, shift: float) -> float:
    """Solve for the last half-width, which holds for ever, and go back from it to the start, at 0."""
    points, weights = _legendre(FEWER)

    def moves(origin: Floats, width: float) -> Floats:
        there = width * points
        return _density((there - (1 - weight) * origin) / weight - shift) * width * weights / weight

    lengths = np.linalg.solve(np.eye(FEWER) - moves(half[-1] * points[:, None], half[-1]), np.ones(FEWER))
    for here, width in zip(half[-2::-1], half[:0:-1], strict=True):
        lengths = 1 + moves(here * points[:, None], width) @ lengths
    return float(1 + moves(np.zeros(1), half[0]) @ lengths)


def poisson_cusum_run_length(mean: float, k: float, h: float, headstart: float = 0.0, *, scale: int = 4) -> float:
    """Return the run length of the CUSUM of Poisson counts that alarms at h or above; k and h are scale-ths.

    Source: Lucas (1985), Technometrics 27:129-144.
    """
    from scipy.special import gammaln, pdtr

    states, step = round(h * scale), round(k * scale)
    at = np.arange(states)
    moves = at[None, :] - at[:, None] + step
    counts, whole = moves // scale, moves % scale == 0
    chance = np.where(
        whole & (counts >= 0),
        np.exp(np.maximum(counts, 0) * np.log(mean) - mean - gammaln(np.maximum(counts, 0) + 1)),
        0.0,
    )
    lowest = (step - at) // scale
    chance[:, 0] = np.where(lowest >= 0, pdtr(np.maximum(lowest, 0), mean), 0.0)
    lengths = np.linalg.solve(np.eye(states) - chance, np.ones(states))
    return float(lengths[round(headstart * scale)])


@lru_cache(maxsize=4096)
def refusal_run_length(rate: float, m: int, limit: int, start: int = 0) -> float:
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
    return float(lengths[start])


@lru_cache(maxsize=8)
def _legendre(n: int) -> tuple[Floats, Floats]:
    points, weights = np.polynomial.legendre.leggauss(n)
    return points, weights


def _density(x: Floats) -> Floats:
    return np.asarray(np.exp(-0.5 * x * x) / np.sqrt(2 * np.pi))
