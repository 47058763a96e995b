"""Visits and their tries: whoever is refused tries again at once, and the second try is often like the first."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.model import ScoreModel
from evenhand.scores.rates.transactions import ATTEMPTS, GAP_S

__all__ = ["Tries", "tries_of"]

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class Tries:
    """Which presentations are the first of a visit (presentations,), and how `alike` tries are, from 0 to 1.

    A try after a refused one is refused for certain with chance `alike`, else as a first one would be.
    """

    is_first: Flags
    alike: float

    def refused(self, chance: Floats) -> Floats:
        """Return the refused presentations to be expected of a visit, by the chance that its first one is refused."""
        again = self.alike + (1 - self.alike) * chance
        return np.asarray(chance * np.sum([again**turn for turn in range(ATTEMPTS)], axis=0))

    def made(self, chance: Floats) -> Floats:
        """Return the presentations to be expected of a visit."""
        again = self.alike + (1 - self.alike) * chance
        return np.asarray(1 + chance * np.sum([again**turn for turn in range(ATTEMPTS - 1)], axis=0))


def tries_of(model: ScoreModel) -> Tries:
    """Return the first presentations of visits, and how alike tries are, each person's second ones against the first.

    A visit goes on after a refusal while no more than two minutes pass at the same reader.
    """
    again = (model.person[1:] == model.person[:-1]) & (model.reader[1:] == model.reader[:-1])
    again &= model.is_refused[:-1] & (np.diff(model.at) <= GAP_S)
    is_first = np.r_[True, ~again]
    people = len(model.people)
    first, second = (
        np.bincount(model.person[chosen], weights=weights, minlength=people)
        for chosen, weights in ((is_first, model.is_refused[is_first]), (~is_first, model.is_refused[~is_first]))
    )
    share = first / np.maximum(np.bincount(model.person[is_first], minlength=people), 1)
    count = np.bincount(model.person[~is_first], minlength=people)
    free = float(count @ (1 - share))
    alike = float((second - count * share).sum()) / free if free > 0 else 0.0
    return Tries(is_first, float(np.clip(alike, 0.0, 1.0)))
