"""How likely it is that chance alone explains a count: exact tails, by summing logarithms of factorials."""

from __future__ import annotations

from math import exp, fsum, lgamma, log

__all__ = ["at_least", "at_most"]


def at_most(count: int, trials: int, share: float) -> float:
    """Return the chance of `count` or fewer successes in `trials` that succeed with probability `share`."""
    return min(1.0, fsum(_exactly(k, trials, share) for k in range(count + 1)))


def at_least(count: int, trials: int, share: float) -> float:
    """Return the chance of `count` or more successes in `trials` that succeed with probability `share`."""
    return min(1.0, fsum(_exactly(k, trials, share) for k in range(count, trials + 1)))


def _exactly(k: int, trials: int, share: float) -> float:
    ways = lgamma(trials + 1) - lgamma(k + 1) - lgamma(trials - k + 1)
    return exp(ways + k * log(share) + (trials - k) * log(1 - share)) if 0 < share < 1 else float(k == trials * share)
