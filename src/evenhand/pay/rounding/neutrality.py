"""Whether gains and losses average out: means with intervals by clusters, and a test by flipping their signs.

What one person does today they do tomorrow, so punches of one person are no independent evidence: the unit is the
person where several are looked at, and the day where one is. Each function answers for many groups at once; `group`
says which one a cluster is of, from 0, in order.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

__all__ = ["EXACT_WORK", "holm", "mean_intervals", "sign_flips"]

EXACT_WORK = 2_000_000
"""Additions for one group, above which its sum is taken as normal: 60 days of some minutes are counted."""
LITTLE_WORK = 10_000
CONFIDENCE = 0.95

Numbers = npt.NDArray[np.float64]
Integers = npt.NDArray[np.int64]


def mean_intervals(group: Integers, sums: Integers, counts: Integers) -> tuple[Numbers, Numbers, Numbers]:
    """Return each group's mean of all items and the ends of its 95 % interval, from each cluster's sum and items.

    A ratio of sums with its linearised variance and Student's t with clusters - 1 degrees of freedom; with one
    cluster there is no interval (nan). Source: Cochran, Sampling Techniques, 3rd ed. (1977), section 9A.1 (one-stage
    cluster sampling, ratio to size), from memory.
    """
    from scipy.special import stdtrit  # scipy.stats takes a second to import

    items, clusters = np.bincount(group, counts), np.bincount(group).astype(np.float64)
    mean = np.bincount(group, sums) / items
    spread = np.bincount(group, (sums - mean[group] * counts) ** 2)
    several = np.where(clusters > 1, clusters, np.nan)
    reach = stdtrit(several - 1, 0.5 + CONFIDENCE / 2) * np.sqrt(several / (several - 1) * spread) / items
    return mean, mean - reach, mean + reach


def sign_flips(group: Integers, totals: Integers) -> tuple[Numbers, npt.NDArray[np.bool_]]:
    """Return each group's two-sided p-value that clusters' totals are as likely gains as losses, and if it is exact.

    Fisher's randomisation test: under neutrality each total could as well have had the other sign. All sign patterns
    are counted, or all sums over whole units that the totals share, whichever are fewer; where both would be too much
    work, or more than a little though the chance adjusted for all groups is 1 either way, the sum is taken as normal
    with the same variance.
    Source: Fisher, The Design of Experiments (1935), section 21.
    """
    from scipy.special import erfc

    groups = int(group.max(initial=-1)) + 1
    begins = np.searchsorted(group, np.arange(groups))
    size = np.abs(totals)
    unit = np.maximum(np.gcd.reduceat(size, begins), 1)
    seen = np.abs(np.add.reduceat(totals, begins)) // unit
    reach, moved = np.add.reduceat(size, begins) // unit, np.add.reduceat((size > 0).astype(np.int64), begins)
    spread = np.sqrt(np.bincount(group, (size / unit[group]) ** 2))
    chance = np.where(moved > 0, erfc(seen / np.where(spread > 0, spread, 1) / np.sqrt(2)), 1.0)
    work = np.minimum(2 ** np.minimum(moved, 40), moved * reach)
    exact = work <= np.where(chance * groups <= 1, EXACT_WORK, LITTLE_WORK)
    ends = np.append(begins[1:], len(group))
    for one in np.flatnonzero(exact & (moved > 0)):
        steps = size[begins[one] : ends[one]] // unit[one]
        chance[one] = _counted(steps[steps > 0], int(seen[one]), int(reach[one]))
    return np.minimum(chance, 1.0), exact


def _counted(steps: Integers, seen: int, reach: int) -> float:
    """Return the share of sign patterns whose sum lies as far out as `seen`, on either side."""
    # A pattern's sum is twice the sum of its gains, less `reach`.
    outside = (reach - seen) // 2
    if not seen:
        return 1.0
    if 2 ** len(steps) <= len(steps) * reach:
        gains = np.zeros(1, np.int64)
        for step in steps:
            gains = np.concatenate([gains, gains + step])
        return float(np.mean((gains <= outside) | (gains >= reach - outside)))
    # As many patterns lie as far out on the other side, so those of few gains are enough.
    share = np.zeros(outside + 1)
    share[0] = 1.0
    for step in steps:
        if step <= outside:
            share[step:] += share[: len(share) - step]
        share /= 2
    return 2 * float(share.sum())


def holm(chances: Numbers) -> Numbers:
    """Return p-values adjusted so that the chance of any false alarm stays bounded. Source: Holm (1979)."""
    order = np.argsort(chances, kind="stable")
    adjusted = np.empty_like(chances)
    adjusted[order] = np.minimum(np.maximum.accumulate((len(chances) - np.arange(len(chances))) * chances[order]), 1.0)
    return adjusted
