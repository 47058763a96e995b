"""How far a level that stands out among many has truly moved: most have not moved at all.

Whoever is named because their level rose most among everybody has risen less than it looks. Changes of all people are
taken as one heap of those that only wander, as wide as the middle of the heap is, and a few that moved; what is
believed of each change is its mean given both.

Source: Efron (2004), J. American Statistical Association 99:96-104, for the width of those that did not move from the
middle of all; Johnstone and Silverman (2004), Annals of Statistics 32:1594-1649, for the mean of a sparse mixture.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.fit import MAD

__all__ = ["Believed", "believed_changes"]

Floats = npt.NDArray[np.float64]

TURNS = 40
FEWEST = 8
"""Changes from which their own middle tells how much those wander that did not move."""
WIDE, SHARE = 9.0, 0.02
"""To begin with: the variance of true changes, in those by chance, and their share."""
MOST_SHARE, LEAST_WIDE = 0.3, 4.0


@dataclass(frozen=True)
class Believed:
    """What is believed of each change (people,): the chance that it is one, and its mean if it is.

    `wander` is how many times as far those go astray that did not move as their errors say, at least 1.
    """

    chance: Floats
    mean: Floats
    wander: float


def believed_changes(change: Floats, error: Floats) -> Believed:
    """Return what is believed of changes (people,) with their errors by chance; nan where there is none."""
    known = ~np.isnan(change) & (error > 0)
    z = change[known] / error[known]
    wander = 1.0
    if len(z) >= FEWEST:
        wander = max(float(MAD * np.median(np.abs(z - np.median(z)))), 1.0)
    z = z / wander
    share, wide = SHARE, WIDE
    chance = np.zeros(len(z))
    for _ in range(TURNS):
        moved = share / np.sqrt(1 + wide) * np.exp(-0.5 * np.square(z) / (1 + wide))
        still = (1 - share) * np.exp(-0.5 * np.square(z))
        chance = moved / (moved + still)
        share = float(np.clip((chance.sum() + SHARE) / (len(z) + 1), 1e-4, MOST_SHARE))
        wide = max(float((chance * np.square(z)).sum() + 0.5 * (1 + WIDE)) / float(chance.sum() + 0.5) - 1, LEAST_WIDE)
    found, mean = np.zeros(len(change)), np.zeros(len(change))
    found[known] = chance
    mean[known] = z * wander * error[known] * wide / (1 + wide)
    return Believed(found, mean, wander)
