"""How single scores scatter about a person's level: the tail that the data have, and each person's own width.

The chance of a refusal lies in the tail, where scores are not normal: it is read off what was seen. A refusal whose
score is not written counts as beyond the threshold, wherever that stood above the person's level.

Source: Kaplan and Meier (1958), J. American Statistical Association 53:457-481, for scores that are only known to lie
above; an exponential tail beyond the last hundredth, Pickands (1975), Annals of Statistics 3:119-131, of shape 0.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.fit import MAD
from evenhand.scores.model import ScoreModel

__all__ = ["Scatter", "scatter_of", "tail_of"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

MOST = 200_000
"""Scores from which the tail is plain; of more, every so-manieth is asked."""
FAR = 0.01
"""Share of scores from which on the tail is drawn on as an exponential one."""
FEWEST_PEOPLE = 10
MOST_GROWN = 1.0
TURNS = 5
PRIOR = 40.0
"""Scores that a person is taken to have as wide as everybody, before their own are looked at."""


@dataclass(frozen=True)
class Scatter:
    """`width` is each person's (people,) at their `usual` level; `at` (rising) and `beyond` the tail of a width of 1.

    By `growth` the logarithm of a width rises with the level: 0 where the fit's scale makes spreads even.
    """

    width: Floats
    usual: Floats
    growth: float
    at: Floats
    beyond: Floats
    excess: float

    def chance(self, person: Ints, distance: Floats, level: Floats) -> Floats:
        """Return the chance that a score lies more than `distance` above the person's level."""
        z = np.asarray(distance) / self._width_at(person, level)
        inside = np.interp(z, self.at, self.beyond)
        outside = self.beyond[-1] * np.exp(-np.maximum(z - self.at[-1], 0.0) / self.excess)
        return np.asarray(np.where(z > self.at[-1], outside, inside))

    def _width_at(self, person: Ints, level: Floats) -> Floats:
        grown = np.clip(self.growth * (level - self.usual[person]), -MOST_GROWN, MOST_GROWN)
        return np.asarray(self.width[person] * np.exp(grown))

    def about(self, person: int, rest: Floats) -> Scatter:
        """Return this with one person's width from how far their scores lie from a level that moved."""
        everybody = float(np.median(self.width))
        width = self.width.copy()
        width[person] = _drawn(np.array([np.square(_pulled(rest)).sum()]), np.array([float(len(rest))]), everybody**2)[
            0
        ]
        return replace(self, width=width)

    def level_below(self, person: int, threshold: float, widths: float) -> float:
        """Return the level from which it is so many of the person's widths up to the threshold."""
        at = threshold
        for _ in range(TURNS):
            at = threshold - widths * float(self._width_at(np.array([person]), np.array([at]))[0])
        return at

    def reach(self, share: float) -> float:
        """Return how far above the level, in widths, a score lies with this chance."""
        if share < self.beyond[-1]:
            return float(self.at[-1] + self.excess * np.log(self.beyond[-1] / share))
        return float(np.interp(-share, -self.beyond, self.at))


def scatter_of(model: ScoreModel, is_first: npt.NDArray[np.bool_]) -> Scatter:
    """Return how scores scatter, from the whole log: what changed in it makes it a little wider than it is.

    Tries after a refusal are like it, so that the tail is that of first presentations, by `is_first`.
    """
    effects, daily = model.effects, model.daily
    shift = daily.reader_shift[model.reader, model.day]
    rest = model.values - effects.fitted[effects.layout.cell] - shift
    bound = np.asarray(model.scale.to(model.threshold))[model.reader] - (model.values - rest)
    rest = np.where(model.is_hidden, bound, rest)
    width, usual = _widths(model, rest), effects.mean + effects.person
    first = np.flatnonzero(is_first)
    first = first[:: max(len(first) // MOST, 1)]
    tail = tail_of((rest / width[model.person])[first], model.is_hidden[first])
    return Scatter(width, usual, _growth(model, width, usual), *tail)


def _growth(model: ScoreModel, width: Floats, usual: Floats) -> float:
    """How widths rise with the level, from person to person, drawn to 0 as far as it is unsure (James and Stein)."""
    count = np.bincount(model.person, minlength=len(model.people)).astype(np.float64)
    if len(width) < FEWEST_PEOPLE:
        return 0.0
    level = usual - np.average(usual, weights=count)
    log_width = np.log(width) * (PRIOR + count) / np.maximum(count, 1)
    log_width = log_width - np.average(log_width, weights=count)
    spread = float(count @ np.square(level))
    if not spread > 0:
        return 0.0
    growth = float(count @ (level * log_width)) / spread
    error = float(count @ np.square(log_width - growth * level)) / (len(width) - 1) / spread
    return growth * max(1 - error / max(growth**2, 1e-300), 0.0)


def _widths(model: ScoreModel, rest: Floats) -> Floats:
    """Each person's spread, robustly, drawn to everybody's as far as the scores are few."""
    people = len(model.people)
    clipped = np.square(_pulled(rest))
    count = np.bincount(model.person, minlength=people).astype(np.float64)
    total = np.bincount(model.person, weights=clipped, minlength=people).astype(np.float64)
    everybody = float(clipped.mean()) or 1e-12
    return _drawn(total, count, everybody)


def _pulled(rest: Floats) -> Floats:
    reach = 3 * MAD * float(np.median(np.abs(rest)))
    return np.clip(rest, -reach, reach)


def _drawn(total: Floats, count: Floats, everybody: float) -> Floats:
    """Spreads from sums of squares, drawn to everybody's variance as far as the scores are few."""
    return np.asarray(np.sqrt((PRIOR * everybody + total) / (PRIOR + count)))


def tail_of(z: Floats, is_above: npt.NDArray[np.bool_]) -> tuple[Floats, Floats, float]:
    """Return places (rising), the share beyond each up to the last hundredth, and the mean excess from there on.

    `is_above` marks scores that are only known to lie above where they stand.
    """
    order = np.argsort(z, kind="stable")
    z, seen = z[order], ~is_above[order]
    at_risk = np.arange(len(z), 0, -1)
    beyond = np.cumprod(np.where(seen, 1.0 - 1.0 / np.maximum(at_risk, 2), 1.0)).astype(np.float64)
    places = np.flatnonzero(seen)
    inside = places[beyond[places] >= min(FAR, float(beyond[places[len(places) // 2]]))]
    at, share = z[inside], beyond[inside]
    far = z[places[beyond[places] < share[-1]]]
    excess = float(np.mean(far - at[-1])) if len(far) else 0.0
    kept = np.unique(np.linspace(0, len(at) - 1, 4000).astype(np.int64))
    return at[kept], share[kept], max(excess, 0.05)
