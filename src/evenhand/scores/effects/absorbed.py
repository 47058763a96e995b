"""Solve for people and readers at once by absorbing the people: exact, and as small as the readers are few.

The block of the people in Henderson's mixed model equations is diagonal, so it is eliminated exactly; what is left
is one dense system over the readers and the mean.

Source: Henderson (1950, 1975), mixed model equations and BLUP; Patterson and Thompson (1971), REML.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.cells import Cells
from evenhand.scores.effects.cholesky import dot, lower_triangle

__all__ = ["Ratios", "Solved", "criterion", "errors_of", "solve"]

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Ratios:
    """Standard deviations of person, reader and pair effects, as multiples of the noise's."""

    person: float
    reader: float
    pair: float = 0.0


@dataclass(frozen=True)
class Solved:
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


def solve(cells: Cells, ratios: Ratios, *, with_inverse: bool = True, has_mean: bool = True) -> Solved:
    """Return the effects given the ratios: shrunken most for those with the fewest scores.

    Reader effects are solved in units of their own standard deviation, so that a ratio of 0 is no special case.
    Without `has_mean` the mean is held at 0, for changes against a known past.
    """
    from scipy.linalg import cho_solve
    from scipy.sparse import csr_array

    y, w = cells.mean, 1 / (1 / cells.count + ratios.pair**2)
    shape = (cells.people, cells.readers)
    share = csr_array((w, (cells.person, cells.reader)), shape=shape)
    of_person = np.bincount(cells.person, weights=w, minlength=cells.people)
    of_reader = np.bincount(cells.reader, weights=w, minlength=cells.readers)
    y_person = np.bincount(cells.person, weights=w * y, minlength=cells.people)
    y_reader = np.bincount(cells.reader, weights=w * y, minlength=cells.readers)
    g, v = ratios.reader, ratios.person**2
    d = np.asarray(1 + v * of_person, dtype=np.float64)
    shed = v / d
    absorbed = share.T @ (share * shed[:, None])
    n = cells.readers
    left, right = np.zeros((n + 1, n + 1)), np.zeros(n + 1)
    left[1:, 1:] = -(g**2) * absorbed.toarray()
    left[np.arange(1, n + 1), np.arange(1, n + 1)] += 1 + g**2 * of_reader
    left[0, 0] = 1.0
    right[1:] = g * (y_reader - share.T @ (shed * y_person))
    if has_mean:
        left[0, 0] = w.sum() - dot(shed, np.square(of_person))
        left[0, 1:] = left[1:, 0] = g * (of_reader - share.T @ (shed * of_person))
        right[0] = dot(w, y) - dot(shed * of_person, y_person)
    factor = lower_triangle(left)
    found = cho_solve((factor, True), right)
    mean, reader = float(found[0]), g * found[1:]
    person = shed * (y_person - mean * of_person - share @ reader)
    fitted = mean + person[cells.person] + reader[cells.reader]
    pair = ratios.pair**2 * w * (y - fitted)
    rest = dot(w, y * y) - mean * dot(w, y) - dot(reader, y_reader) - dot(person, y_person)
    return Solved(
        mean=mean,
        person=person,
        reader=reader,
        pair=pair,
        rest=max(rest, 0.0),
        log_det=float(np.log(d).sum() + 2 * np.log(np.diag(factor)).sum()),
        weight=w,
        inverse=cho_solve((factor, True), np.eye(n + 1)) if with_inverse else None,
        divisor=d,
    )


def criterion(cells: Cells, ratios: Ratios) -> tuple[float, float]:
    """Return the REML criterion, minus twice the restricted log-likelihood, and the noise's variance at its best."""
    solved = solve(cells, ratios, with_inverse=False)
    freedom = cells.count.sum() - 1
    noise = (cells.within + solved.rest) / freedom
    spread = float(np.log1p(cells.count * ratios.pair**2).sum())
    return float(freedom * (1 + np.log(2 * np.pi * noise)) + solved.log_det + spread), float(noise)


def errors_of(cells: Cells, ratios: Ratios, solved: Solved, noise: float) -> tuple[float, Floats, Floats]:
    """Return the standard errors of mean, person and reader effects: of prediction, the shrinking included."""
    assert solved.inverse is not None
    g, v, n = ratios.reader, ratios.person**2, cells.people
    reader = g * np.sqrt(noise * np.diag(solved.inverse)[1:])
    of_person = np.bincount(cells.person, weights=solved.weight, minlength=n)
    crossed = g * solved.weight * solved.inverse[0, 1 + cells.reader]
    both = _quadratic(cells, g * solved.weight, solved.inverse[1:, 1:])
    both += of_person * (of_person * solved.inverse[0, 0] + 2 * np.bincount(cells.person, weights=crossed, minlength=n))
    shed = v / solved.divisor
    person = np.sqrt(noise * (shed + np.square(shed) * both))
    return float(np.sqrt(noise * solved.inverse[0, 0])), person, reader


def _quadratic(cells: Cells, x: Floats, inverse: Floats) -> Floats:
    """Return x' inverse x of each person's cells (people,): cell by cell with itself, with the next, and so on."""
    order = np.argsort(cells.person, kind="stable")
    person, reader, x = cells.person[order], cells.reader[order], x[order]
    total = np.zeros(cells.people)
    at, lag = np.arange(len(person)), 0
    while len(at):
        term = x[at] * x[at + lag] * inverse[reader[at], reader[at + lag]]
        total += (2 if lag else 1) * np.bincount(person[at], weights=term, minlength=cells.people)
        lag += 1
        at = at[at + lag < len(person)]
        at = at[person[at + lag] == person[at]]
    return total
