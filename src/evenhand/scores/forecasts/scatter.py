"""How single scores scatter about a person's level: the tail that the data have, and each person's own width.

The chance of a refusal lies in the tail, where scores are not normal: it is read off what was seen. A refusal whose
score is not written counts as beyond the threshold, wherever that stood above the person's level.

Source: Kaplan and Meier (1958), J. American Statistical Association 53:457-481, for scores that are only known to lie
above; an exponential tail beyond the last hundredth, Pickands (1975), Annals of Statistics 3:119-131, of shape 0.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.fit import MAD
from evenhand.scores.model import ScoreModel

__all__ = ["Scatter", "scatter_of", "tail_of"]

Floats = npt.NDArray[np.float64]

MOST = 200_000
"""Scores from which the tail is plain; of more, every so-manieth is asked."""
FAR = 0.01
"""Share of scores from which on the tail is drawn on as an exponential one."""
PRIOR = 40.0
"""Scores that a person is taken to have as wide as everybody, before their own are looked at."""


@dataclass(frozen=True)
class Scatter:
    """`width` is each person's (people,), on the fit's scale; `at` (rising) and `beyond` the tail of a width of 1."""

    width: Floats
    at: Floats
    beyond: Floats
    excess: float

    def chance(self, person: npt.NDArray[np.int64], distance: Floats) -> Floats:
        """Return the chance that a score lies more than `distance` above the person's level."""
        z = np.asarray(distance) / self.width[person]
        inside = np.interp(z, self.at, self.beyond)
        outside = self.beyond[-1] * np.exp(-np.maximum(z - self.at[-1], 0.0) / self.excess)
        return np.asarray(np.where(z > self.at[-1], outside, inside))

    def reach(self, share: float) -> float:
        """Return how far above the level, in widths, a score lies with this chance."""
        if share < self.beyond[-1]:
            return float(self.at[-1] + self.excess * np.log(self.beyond[-1] / share))
        return float(np.interp(-share, -self.beyond, self.at))


def scatter_of(model: ScoreModel) -> Scatter:
    """Return how scores scatter, from the whole log: what changed in it makes it a little wider than it is."""
    effects, daily = model.effects, model.daily
    shift = daily.reader_shift[model.reader, model.day]
    rest = model.values - effects.fitted[effects.layout.cell] - shift
    bound = np.asarray(model.scale.to(model.threshold))[model.reader] - (model.values - rest)
    rest = np.where(model.is_hidden, bound, rest)
    width = _widths(model, rest)
    z = rest / width[model.person]
    every = max(len(z) // MOST, 1)
    return Scatter(width, *tail_of(z[::every], model.is_hidden[::every]))


def _widths(model: ScoreModel, rest: Floats) -> Floats:
    """Each person's spread, robustly, drawn to everybody's as far as the scores are few."""
    people = len(model.people)
    reach = 3 * MAD * float(np.median(np.abs(rest)))
    clipped = np.square(np.clip(rest, -reach, reach))
    count = np.bincount(model.person, minlength=people)
    total = np.bincount(model.person, weights=clipped, minlength=people)
    everybody = float(clipped.mean()) or 1e-12
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
