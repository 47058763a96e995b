"""How much people, readers and pairs differ: variances by restricted maximum likelihood.

Where the search ends at its bound, or does not end, resistant moments stand in, and the ratios say so.

Source: Patterson and Thompson (1971), Biometrika 58:545-554 (REML); the search is SciPy's COBYQA. Moments: what is left
of the spread of middles after what chance gives them (Henderson 1953, Biometrics 9:226-252, method 1, with medians).
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.absorbed import Ratios, criterion
from evenhand.scores.effects.cells import ScoreCells

__all__ = ["MAD", "estimate_ratios"]

Floats = npt.NDArray[np.float64]
Codes = npt.NDArray[np.integer[Any]]

MAD = 1.482602218505602
ENOUGH = 6_000
"""People from whom variances are known well enough, to about 2 %; the rest need not be asked."""
MOST = 30.0
NEAR = 0.99
"""Share of the bound from which a ratio sits at it."""
START = Ratios(0.5, 0.3, 0.2)


def estimate_ratios(
    cells: ScoreCells, *, start: Ratios = START, radius: float = 0.2, precision: float = 1e-4
) -> tuple[Ratios, float, float]:
    """Return the ratios, the noise's variance and the criterion at its least.

    Readers get no variance where there is but one, pairs none where no person uses two readers or no cell holds
    two scores: nothing would tell it from the person's, or from the noise. Of very many people every so-manieth
    is asked. `start` and `radius` say where to look and how far around, `precision` when to stop. Ratios that are not
    settled are by moments.
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
        return Ratios(float(full[0]), float(full[1]), float(full[2]))

    first = np.array([start.person, start.reader, start.pair])[free]
    best = minimize(
        lambda point: criterion(cells, ratios_at(point))[0],
        first,
        method="COBYQA",
        bounds=[(0.0, MOST)] * len(first),
        options={"initial_tr_radius": radius, "final_tr_radius": precision, "maxfev": 400},
    )
    ratios = ratios_at(best.x)
    if not best.success or max(ratios.person, ratios.reader, ratios.pair) > NEAR * MOST:
        ratios = _by_moments(cells, free)
    least, noise = criterion(cells, ratios)
    return ratios, noise, least


def _by_moments(cells: ScoreCells, free: list[bool]) -> Ratios:
    """The ratios from how far the middles of readers, people and pairs lie apart, less what chance gives them."""
    noise = cells.within / max(float(cells.count.sum()) - len(cells.count), 1.0) or np.finfo(np.float64).tiny
    rest, found = cells.mean, []
    for codes, size in ((cells.reader, cells.readers), (cells.person, cells.people)):
        middle = _middles(codes, rest, size)
        by_chance = noise / np.maximum(np.bincount(codes, weights=cells.count, minlength=size), 1.0)
        found.append(_beyond_chance(middle[np.unique(codes)], by_chance[np.unique(codes)]))
        rest = rest - middle[codes]
    reader, person = found
    pair = _beyond_chance(rest, noise / cells.count)
    ratios = np.where(free, np.minimum(np.sqrt(np.array([person, reader, pair]) / noise), MOST), 0.0)
    return Ratios(float(ratios[0]), float(ratios[1]), float(ratios[2]), settled=False)


def _middles(codes: Codes, values: Floats, size: int) -> Floats:
    order = np.lexsort((values, codes))
    starts = np.searchsorted(codes[order], np.arange(size + 1))
    count = np.diff(starts)
    low, high = (np.minimum(starts[:-1] + at, len(values) - 1) for at in ((count - 1) // 2, count // 2))
    return np.asarray(np.where(count > 0, (values[order][low] + values[order][high]) / 2, 0.0))


def _beyond_chance(values: Floats, by_chance: Floats) -> float:
    spread = MAD * float(np.median(np.abs(values - np.median(values))))
    return max(spread**2 - float(np.median(by_chance)), 0.0)


def _tells_pairs(cells: ScoreCells) -> bool:
    several = np.bincount(cells.person, minlength=cells.people) > 1
    return bool(several.any() and (cells.count > 1).any())
