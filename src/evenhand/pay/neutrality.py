"""Whether gains and losses average out: a mean with an interval by clusters, and a test by flipping their signs.

What one person does today they do tomorrow, so punches of one person are no independent evidence: the unit is the
person where several are looked at, and the day where one is.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import erfc, gcd, sqrt

import numpy as np
import numpy.typing as npt

__all__ = ["EXACT_WORK", "holm", "mean_interval", "sign_flip"]

EXACT_WORK = 2_000_000
CONFIDENCE = 0.95

Numbers = npt.NDArray[np.float64]


def mean_interval(
    sums: npt.NDArray[np.int64], counts: npt.NDArray[np.int64]
) -> tuple[float, float | None, float | None]:
    """Return the mean of all items and the ends of its 95 % interval, from each cluster's sum and count of items.

    A ratio of sums with its linearised variance and Student's t with clusters - 1 degrees of freedom; with one
    cluster there is no interval. Source: Cochran, Sampling Techniques, 3rd ed. (1977), section 9A.1 (one-stage
    cluster sampling, ratio to size), from memory.
    """
    items, clusters = int(counts.sum()), len(sums)
    mean = float(sums.sum()) / items
    if clusters < 2:
        return mean, None, None
    residuals = sums - mean * counts
    error = sqrt(clusters / (clusters - 1) * float((residuals**2).sum())) / items
    reach = _students_t(clusters - 1) * error
    return mean, mean - reach, mean + reach


@lru_cache(maxsize=1024)
def _students_t(freedom: int) -> float:
    from scipy.special import stdtrit  # scipy.stats takes a second to import

    return float(stdtrit(freedom, 0.5 + CONFIDENCE / 2))


def sign_flip(totals: Sequence[int]) -> tuple[float, str]:
    """Return the two-sided p-value that clusters' totals are as likely to be gains as losses, and how it was found.

    Fisher's randomisation test: under neutrality each total could as well have had the other sign. All sign patterns
    are counted exactly, by convolution over whole units; where that would be too much work the sum is taken as
    normal with the same variance. Source: Fisher, The Design of Experiments (1935), section 21.
    """
    moved = [abs(total) for total in totals if total]
    if not moved:
        return 1.0, "exact sign-flip test"
    unit = gcd(*moved)
    steps = [amount // unit for amount in moved]
    seen, reach = abs(sum(totals)) // unit, sum(steps)
    if len(steps) * reach > EXACT_WORK:
        spread = sqrt(sum(step * step for step in steps))
        return erfc(seen / spread / sqrt(2)), "sign-flip test, normal approximation"
    chance: Numbers = np.zeros(2 * reach + 1)
    chance[reach] = 1.0
    for step in steps:
        flipped = np.zeros_like(chance)
        flipped[step:] += chance[: len(chance) - step] / 2
        flipped[: len(chance) - step] += chance[step:] / 2
        chance = flipped
    beyond = float(chance[: reach - seen + 1].sum() + chance[reach + seen :].sum())
    return min(1.0, beyond), "exact sign-flip test"


def holm(chances: Sequence[float]) -> list[float]:
    """Return p-values adjusted so that the chance of any false alarm stays bounded. Source: Holm (1979)."""
    order = sorted(range(len(chances)), key=lambda place: chances[place])
    adjusted = [1.0] * len(chances)
    largest = 0.0
    for rank, place in enumerate(order):
        largest = max(largest, min(1.0, (len(chances) - rank) * chances[place]))
        adjusted[place] = largest
    return adjusted
