"""The charts: tabular CUSUM, EWMA, and the CUSUM of refusals.

Source: Page (1954) (CUSUM); Roberts (1959) and Lucas and
Saccucci (1990), Technometrics 32:1-12 (EWMA); Reynolds and Stoumbos (1999), J. Quality Technology 31 (refusals).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

__all__ = ["Alarms", "cusum", "cusum_alarms", "ewma", "ewma_alarms", "ewma_heights", "refusal_step"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Alarms:
    """Alarms as columns (alarms,): of which `series`, at which point, and from which point on things had changed.

    `size` is the mean since then that the chart tells of. One alarm lasts until the chart is back at rest, at point
    `ends`, which is -1 while it is not: a change that stays is told once. It stands highest at `peak`.
    """

    series: Ints
    at: Ints
    begins: Ints
    peak: Ints
    ends: Ints
    size: Floats


def cusum(z: Floats, k: float = 0.5) -> Floats:
    """Return the upper sums (series, points) of standardised values; nan is a point without a value.

    For the lower sums give -z.
    """
    sums = np.empty_like(z)
    last = np.zeros(z.shape[0])
    for point in range(z.shape[1]):
        value = z[:, point]
        last = np.where(np.isnan(value), last, np.maximum(0.0, last + np.nan_to_num(value) - k))
        sums[:, point] = last
    return sums


def cusum_alarms(z: Floats, k: float, h: float) -> Alarms:
    """Return the upper CUSUMs' alarms, given above h; the change is dated by the last zero before.

    `size` is k plus the sum by the values since the zero: the mean, in standard deviations, that the sum tells of.
    """
    sums = cusum(z, k)
    found = _episodes(sums, h)
    size = [
        k + sums[i, at] / max(int((~np.isnan(z[i, begins : at + 1])).sum()), 1)
        for i, at, begins in zip(found.series.tolist(), found.at.tolist(), found.begins.tolist(), strict=True)
    ]
    return replace(found, size=np.array(size, dtype=np.float64))


def ewma(z: Floats, weight: float) -> tuple[Floats, Floats]:
    """Return the averages (series, points) of standardised values, and their standard deviations there."""
    averages, spread = np.empty_like(z), np.empty_like(z)
    last, seen = np.zeros(z.shape[0]), np.zeros(z.shape[0])
    for point in range(z.shape[1]):
        value = z[:, point]
        here = ~np.isnan(value)
        last = np.where(here, weight * np.nan_to_num(value) + (1 - weight) * last, last)
        seen = seen + here
        averages[:, point] = last
        spread[:, point] = np.sqrt(weight / (2 - weight) * (1 - (1 - weight) ** (2 * seen)))
    return averages, spread


def ewma_heights(z: Floats, weight: float) -> Floats:
    """Return the averages (series, points) in their exact standard deviations."""
    return _in_spreads(*ewma(z, weight))


def _in_spreads(averages: Floats, spread: Floats) -> Floats:
    return np.asarray(averages / np.maximum(spread, 1e-300))


def ewma_alarms(z: Floats, weight: float, limit: float) -> tuple[Alarms, Alarms]:
    """Return the alarms above and below, with limits of `limit` exact standard deviations; `size` is the average."""
    averages, spread = ewma(z, weight)
    heights = _in_spreads(averages, spread)
    sides = []
    for sign in (1.0, -1.0):
        found = _episodes(sign * heights, limit)
        sides.append(replace(found, size=averages[found.series, found.at]))
    return sides[0], sides[1]


def refusal_step(usual: float, raised: float) -> int:
    """Return m: a refusal adds m - 1 and an acceptance takes 1, best between the two rates of refusal.

    Source: Reynolds and Stoumbos (1999): m is the whole number below r2 / r1 of the two likelihoods.
    """
    r1 = -np.log((1 - raised) / (1 - usual))
    r2 = np.log(raised * (1 - usual) / (usual * (1 - raised)))
    return max(2, int(r2 / r1))


def _episodes(sums: Floats, limit: float) -> Alarms:
    """One alarm from the first point above the limit to the next point at rest, 0 or below, in each row."""
    rows: list[tuple[int, int, int, int, int]] = []
    for i in np.flatnonzero((sums > limit).any(axis=1)).tolist():
        over, rest = np.flatnonzero(sums[i] > limit), np.flatnonzero(sums[i] <= 0)
        free = -1
        for at in over.tolist():
            if at <= free:
                continue
            before, after = rest[rest < at], rest[rest > at]
            free = int(after[0]) if len(after) else sums.shape[1]
            peak = at + int(np.argmax(sums[i, at:free]))
            rows.append((i, at, int(before[-1]) + 1 if len(before) else 0, peak, int(after[0]) if len(after) else -1))
    columns = np.array(rows, dtype=np.int64).reshape(-1, 5)
    return Alarms(
        series=columns[:, 0],
        at=columns[:, 1],
        begins=columns[:, 2],
        peak=columns[:, 3],
        ends=columns[:, 4],
        size=np.zeros(len(rows)),
    )
