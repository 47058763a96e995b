"""How one person's level moved: what it was, what it is now, and how likely each way there is.

A step at any day, or a slope from any day on that goes on or comes to hold after some weeks, is fitted to the days;
what is said is the average over all of them by how well each explains the days. The last week alone would lag behind
a drift, and a line would overshoot a step.

Source: averaging over models by their likelihood with flat priors for the level and its rise (Hoeting and others 1999,
Statistical Science 14:382-417, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.alarms.standardise import REACH
from evenhand.scores.model import ScoreModel

__all__ = ["Paths", "likely_paths", "paths_of"]

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]
Ints = npt.NDArray[np.int64]

GROWS = (14.0, 28.0, 56.0, np.inf)
"""Days that a drift grows before it holds."""
FEWEST = 4
"""Days before and since the change from which a path is thought of."""
SHARE = 0.02
"""Share of levels that are taken to have risen before anything is seen."""
NEAR = 3
"""Days on either side over which a level is looked for before far scores are pulled in to it."""


@dataclass(frozen=True)
class Paths:
    """Ways in which a level may have gone, as columns (paths,): what it was, what it is now, and their weights.

    `drift` is the weight of those that grew, not stepped; the weights sum to 1. `level` (points,) is their average,
    `begins` (paths,) the point at which each rises first, and `sure` the chance that it rose at all.
    """

    was: Floats
    now: Floats
    weight: Floats
    drift: float
    level: Floats
    begins: Ints
    sure: float


def paths_of(model: ScoreModel, is_first: Flags, person: int, width: float, wander: float) -> tuple[Paths, Floats]:
    """Return the likely paths of one person's level, and how far each score lies from their average.

    Single scores scatter by `width`, as far as is known before: about a level that stays.
    Of a visit the first presentation counts, by `is_first`: how many follow depends on what they score.
    `wander` is how many times as far levels go astray as single scores say.
    """
    mine = np.arange(*np.searchsorted(model.person, (person, person + 1)).tolist())
    mine = mine[is_first[mine]]
    effects = model.effects
    day, reader = model.day[mine], model.reader[mine]
    own = model.values[mine] - effects.reader[reader] - effects.pair[effects.layout.cell[mine]]
    own = own - model.daily.reader_shift[reader, day]
    order = np.argsort(day, kind="stable")
    days, starts, count = np.unique(day[order], return_index=True, return_counts=True)
    own = own[order]
    middle = np.repeat([np.median(own[_near(days, starts, count, at)]) for at in range(len(days))], count)
    kept = np.clip(own, middle - REACH * width, middle + REACH * width)
    paths = likely_paths(days, np.add.reduceat(kept, starts) / count, wander**2 * width**2 / count)
    return paths, own - np.repeat(paths.level, count)


def _near(days: Ints, starts: Ints, count: Ints, at: int) -> slice:
    low, high = np.searchsorted(days, (days[at] - NEAR, days[at] + NEAR + 1))
    return slice(int(starts[low]), int(starts[high - 1] + count[high - 1]))


def likely_paths(day: Ints, level: Floats, variance: Floats, fewest: int = FEWEST) -> Paths:
    """Return the likely paths of a level (points,) by day, each with its variance; only those that rise.

    They change with at least `fewest` points on either side.
    """
    begins = np.arange(fewest, len(day) - fewest + 1)
    if not len(begins):
        mean = np.average(level, weights=1 / variance, keepdims=True)
        return Paths(mean, mean, np.ones(1), 0.5, np.full(len(day), mean[0]), np.zeros(1, dtype=np.int64), 0.0)
    since = np.maximum(day[None, :] - day[begins, None] + 1.0, 0.0)
    step = (since > 0).astype(np.float64)
    drifts = [since if np.isinf(grows) else np.minimum(since / grows, 1.0) for grows in GROWS]
    shape = np.concatenate([step, *drifts])
    prior = np.repeat([0.5, *[0.5 / len(GROWS)] * len(GROWS)], len(begins)) / len(begins)
    weight = 1 / variance
    mean_shape, mean = shape @ weight / weight.sum(), level @ weight / weight.sum()
    centred = shape - mean_shape[:, None]
    spread = np.square(centred) @ weight
    rise = centred @ (weight * (level - mean)) / spread
    gain = np.where(rise > 0, np.square(rise) * spread / 2, 0.0)
    # a level that stays has one number less to fit: Schwarz (1978), Annals of Statistics 6:461-464
    evidence = gain.max() + np.log(prior @ (np.exp(gain - gain.max()) * (rise > 0)) + 1e-300) - np.log(len(day)) / 2
    sure = float(1 / (1 + (1 - SHARE) / SHARE * np.exp(-min(evidence, 500.0))))
    likely = prior * np.exp(gain - gain.max()) * shape[:, -1] / np.sqrt(spread) * (rise > 0)
    rise, was = np.maximum(rise, 0.0), mean - rise * mean_shape
    if not likely.sum() > 0:
        likely, rise, was = prior, np.zeros(len(prior)), np.full(len(prior), mean)
    likely = likely / likely.sum()
    drift = float(likely[len(begins) :].sum())
    average = likely @ was + (likely * rise) @ shape
    return Paths(was, was + rise * shape[:, -1], likely, drift, average, np.tile(begins, 1 + len(GROWS)), sure)
