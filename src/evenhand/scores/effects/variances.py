"""How much people, readers and pairs differ: variances by restricted maximum likelihood.

Source: Patterson and Thompson (1971), Biometrika 58:545-554 (REML); the search is SciPy's COBYQA.
"""

from __future__ import annotations

import numpy as np

from evenhand.scores.effects.absorbed import Ratios, criterion
from evenhand.scores.effects.cells import ScoreCells

__all__ = ["estimate_ratios"]

ENOUGH = 6_000
"""People from whom variances are known well enough, to about 2 %; the rest need not be asked."""
MOST = 30.0
START = Ratios(0.5, 0.3, 0.2)


def estimate_ratios(
    cells: ScoreCells, *, start: Ratios = START, radius: float = 0.2, precision: float = 1e-4
) -> tuple[Ratios, float, float]:
    """Return the ratios, the noise's variance and the criterion at its least.

    Readers get no variance where there is but one, pairs none where no person uses two readers or no cell holds
    two scores: nothing would tell it from the person's, or from the noise. Of very many people every so-manieth
    is asked. `start` and `radius` say where to look and how far around, `precision` when to stop.
    """
    from scipy.optimize import minimize

    if cells.people > ENOUGH:
        chosen = np.zeros(cells.people, dtype=bool)
        chosen[:: cells.people // ENOUGH] = True
        cells = cells.of_people(chosen)
    free = [True, cells.readers > 1, _tells_pairs(cells)]

    def ratios_at(point: np.ndarray[tuple[int], np.dtype[np.float64]]) -> Ratios:
        full = np.zeros(3)
        full[free] = np.abs(point)
        return Ratios(*full.tolist())

    first = np.array([start.person, start.reader, start.pair])[free]
    best = minimize(
        lambda point: criterion(cells, ratios_at(point))[0],
        first,
        method="COBYQA",
        bounds=[(0.0, MOST)] * len(first),
        options={"initial_tr_radius": radius, "final_tr_radius": precision, "maxfev": 400},
    )
    ratios = ratios_at(best.x)
    least, noise = criterion(cells, ratios)
    return ratios, noise, least


def _tells_pairs(cells: ScoreCells) -> bool:
    several = np.bincount(cells.person, minlength=cells.people) > 1
    return bool(several.any() and (cells.count > 1).any())
