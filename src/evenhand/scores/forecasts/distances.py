"""How far the thresholds of the readers that each person uses lie above their level, as the readers are now."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.scores.forecasts.scatter import Scatter
from evenhand.scores.model import ScoreModel

__all__ = ["Distances", "distances_of"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

MOST = 2000
"""Scores of a reader by which its step is looked for."""
WINDOW, NOW = 28, 7
"""Days over which the use of readers is counted, and over which it is looked how a reader is now."""


@dataclass(frozen=True)
class Distances:
    """Thresholds as columns (cells,), by person: where each lies for a level of 0, and its share of the person's use.

    `middle` (people,) is the average, nan where no reader that a person uses ever refused.
    """

    person: Ints
    at: Floats
    share: Floats
    middle: Floats

    def chances(self, scatter: Scatter, level: Floats) -> Floats:
        """Return the chance (people,) that a presentation is refused, at these levels (people,)."""
        found = self.share * scatter.chance(self.person, self.at - level[self.person], level[self.person])
        return np.asarray(np.bincount(self.person, weights=found, minlength=len(level)))

    def chances_of(self, scatter: Scatter, person: int, levels: Floats) -> Floats:
        """Return one person's chances at several levels."""
        cells = slice(*np.searchsorted(self.person, (person, person + 1)).tolist())
        at = self.at[cells, None] - levels[None, :]
        return np.asarray(
            self.share[cells] @ scatter.chance(np.broadcast_to(self.person[cells, None], at.shape), at, levels[None, :])
        )


def distances_of(model: ScoreModel) -> Distances:
    """Return the thresholds for everybody, by what the readers they use add to a score now."""
    effects, cells = model.effects, model.effects.cells
    refuses = np.bincount(model.reader[model.is_refused], minlength=len(model.readers)) > 0
    with np.errstate(divide="ignore", invalid="ignore"):
        threshold = np.where(refuses, model.scale.to(model.threshold + _steps(model) / 2), np.nan)
    by_reader = threshold - effects.reader - model.daily.reader_shift[:, -NOW:].mean(axis=1)
    at = by_reader[cells.reader] - effects.pair
    lately = model.day >= model.days - WINDOW
    used = np.bincount(effects.layout.cell[lately], minlength=len(at)).astype(np.float64)
    people = len(model.people)
    none = np.bincount(cells.person, weights=np.where(np.isnan(at), 0.0, used), minlength=people) == 0
    used = np.where(none[cells.person], cells.count, used)
    known = np.flatnonzero(~np.isnan(at) & (used > 0))
    person, at, used = cells.person[known], at[known], used[known]
    total = np.bincount(person, weights=used, minlength=people)
    share = used / total[person]
    middle = np.where(total > 0, np.bincount(person, weights=share * at, minlength=people), np.nan)
    return Distances(person, at, share, middle)


def _steps(model: ScoreModel) -> Floats:
    """The step in which each reader writes scores (readers,): between the highest accepted and the next it decides."""
    step = pl.col("score").drop_nulls().head(MOST).unique().sort().diff().min().fill_null(0.0)
    found = dict(model.presented.group_by("reader").agg(step).iter_rows())
    return np.array([found[name] for name in model.readers], dtype=np.float64)
