"""Solve for people and readers at once by absorbing the people: exact, and as small as the readers are few.

The block of the people in Henderson's mixed model equations is diagonal, so it is eliminated exactly; what is left
is one dense system over the readers and the mean.

Source: Henderson (1950, 1975), mixed model equations and BLUP; Patterson and Thompson (1971), REML.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.cells import ScoreCells

__all__ = ["Ratios", "SolvedEffects", "criterion", "errors_of", "solve"]

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Ratios:
    """Standard deviations of person, reader and pair effects, as multiples of the noise's.

    Not `settled` where the likelihood had no greatest value within bounds, and moments stand in.
    """

    person: float
    reader: float
    pair: float = 0.0
    settled: bool = True


@dataclass(frozen=True)
class SolvedEffects:
    """Effects in the units of the scores; `rest` is the penalised sum of squares, `log_det` belongs to the criterion.

    `inverse` is the inverse of the absorbed system (1 + readers square), scaled as `solve` says; `weight` is what
    one cell's mean weighs, in units of one over the noise's variance.
    """

    mean: float
    person: Floats
    reader: Floats
    pair: Floats
    rest: float
    log_det: float
    weight: Floats
    inverse: Floats | None
    divisor: Floats


def solve(cells: ScoreCells, ratios: Ratios, *, with_inverse: bool = True) -> SolvedEffects:
    """Return the effects given the ratios: shrunken most for those with the fewest scores.

    Reader effects are solved in units of their own standard deviation, so that a ratio of 0 is no special case.
    """
    from scipy.linalg import cho_factor, cho_solve

    y, w = cells.mean, 1 / (1 / cells.count + ratios.pair**2)
    of_person, of_reader = cells.by_person(w), cells.by_reader(w)
    y_person, y_reader = cells.by_person(w * y), cells.by_reader(w * y)
    g, v = ratios.reader, ratios.person**2
    d = np.asarray(1 + v * of_person, dtype=np.float64)
    shed = v / d
    n = cells.readers
    left, right = np.zeros((n + 1, n + 1)), np.zeros(n + 1)
    left[1:, 1:] = -(g**2) * cells.among_readers(w, shed)
    left[np.arange(1, n + 1), np.arange(1, n + 1)] += 1 + g**2 * of_reader
    left[0, 0] = w.sum() - (shed * np.square(of_person)).sum()
    left[0, 1:] = left[1:, 0] = g * (of_reader - cells.by_reader(w * (shed * of_person)[cells.person]))
    right[0] = (w * y).sum() - (shed * of_person * y_person).sum()
    right[1:] = g * (y_reader - cells.by_reader(w * (shed * y_person)[cells.person]))
    factor = cho_factor(left, lower=True, check_finite=False)
    found = cho_solve(factor, right, check_finite=False)
    mean, reader = float(found[0]), g * found[1:]
    person = shed * (y_person - mean * of_person - cells.by_person(w * reader[cells.reader]))
    fitted = mean + person[cells.person] + reader[cells.reader]
    rest = float((w * y * (y - mean)).sum() - (reader * y_reader).sum() - (person * y_person).sum())
    return SolvedEffects(
        mean=mean,
        person=person,
        reader=reader,
        pair=ratios.pair**2 * w * (y - fitted),
        rest=max(rest, 0.0),
        log_det=float(np.log(d).sum() + 2 * np.log(np.diag(factor[0])).sum()),
        weight=w,
        inverse=cho_solve(factor, np.eye(n + 1), check_finite=False) if with_inverse else None,
        divisor=d,
    )


def criterion(cells: ScoreCells, ratios: Ratios) -> tuple[float, float]:
    """Return the REML criterion, minus twice the restricted log-likelihood, and the noise's variance at its best."""
    solved = solve(cells, ratios, with_inverse=False)
    freedom = cells.count.sum() - 1
    noise = max((cells.within + solved.rest) / freedom, np.finfo(np.float64).tiny)  # 0 where scores never differ
    spread = float(np.log1p(cells.count * ratios.pair**2).sum())
    return float(freedom * (1 + np.log(2 * np.pi * noise)) + solved.log_det + spread), float(noise)


def errors_of(cells: ScoreCells, ratios: Ratios, solved: SolvedEffects, noise: float) -> tuple[float, Floats, Floats]:
    """Return the standard errors of mean, person and reader effects: of prediction, the shrinking included."""
    assert solved.inverse is not None
    g, v = ratios.reader, ratios.person**2
    reader = g * np.sqrt(noise * np.diag(solved.inverse)[1:])
    of_person = cells.by_person(solved.weight)
    crossed = cells.by_person(g * solved.weight * solved.inverse[0, 1 + cells.reader])
    both = cells.quadratic(g * solved.weight, solved.inverse[1:, 1:])
    both += of_person * (of_person * solved.inverse[0, 0] + 2 * crossed)
    shed = v / solved.divisor
    person = np.sqrt(noise * (shed + np.square(shed) * both))
    return float(np.sqrt(noise * solved.inverse[0, 0])), person, reader
