"""Fit person, reader and pair effects to scores with a long tail and with refusals whose score is not written.

Huber's estimate by modified residuals: each score is pulled to within 1.345 spreads of its fit, the sums change, the
equations do not. A refusal without a score counts as what a score above the threshold is expected to be.

Source: Huber (1981), Robust Statistics, chapter 7; Tobin (1958) and Dempster, Laird and Rubin (1977) for the refusals.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.absorbed import Ratios, SolvedEffects, errors_of, solve
from evenhand.scores.effects.cells import CellLayout, ScoreCells, lay_out
from evenhand.scores.effects.variances import MAD, estimate_ratios

__all__ = ["MAD", "Effects", "expected_above", "fit_effects"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Codes = npt.NDArray[np.integer[Any]]

HUBER = 1.345
ROUNDS = 8
SAMPLE = 400_000
"""Scores from which the spread is known well enough; of more, every so-manieth is asked."""


@dataclass(frozen=True)
class Effects:
    """The fit, on the scale it was given: `mean` + person (people,) + reader (readers,) + pair (cells,) + noise.

    `*_error` are standard errors of prediction. `noise_sd` is the spread of single scores around the fit; `ratios`
    are the other standard deviations in units of `estimation_sd`, the noise as the robust estimate feels it.
    `layout` says how the scores stand by cell.
    """

    mean: float
    person: Floats
    reader: Floats
    pair: Floats
    mean_error: float
    person_error: Floats
    reader_error: Floats
    noise_sd: float
    estimation_sd: float
    ratios: Ratios
    cells: ScoreCells
    layout: CellLayout

    @property
    def person_sd(self) -> float:
        """Return how much people differ."""
        return self.ratios.person * self.estimation_sd

    @property
    def reader_sd(self) -> float:
        """Return how much readers differ."""
        return self.ratios.reader * self.estimation_sd

    @property
    def pair_sd(self) -> float:
        """Return how much a person's references on different readers differ."""
        return self.ratios.pair * self.estimation_sd

    @property
    def fitted(self) -> Floats:
        """Return what the fit says of each cell (cells,)."""
        cells = self.cells
        return np.asarray(self.mean + self.person[cells.person] + self.reader[cells.reader] + self.pair)


@dataclass(frozen=True)
class _Sorted:
    """Scores by cell, nan where hidden; `hidden` are their places, each above its bound; `rest` is room to work."""

    layout: CellLayout
    values: Floats
    hidden: Ints
    bounds: Floats
    rest: Floats


@dataclass(frozen=True)
class _Modified:
    """The cells after pulling scores in, the spread around the fit, and the variance that estimates from them feel."""

    cells: ScoreCells
    spread: float
    noise: float


def fit_effects(
    person: Codes,
    reader: Codes,
    values: Floats,
    people: int,
    readers: int,
    *,
    bound: float | Floats = 0.0,
) -> Effects:
    """Return the effects of scores (scores,) of people and readers by code.

    A value of nan is a refusal whose score is not written, above its `bound`. These count as full scores, so errors
    are a little too small where they are many.
    """
    layout = lay_out(person, reader, people, readers)
    ordered = layout.sort(values)
    hidden = np.flatnonzero(np.isnan(ordered))
    given = hidden if layout.order is None else layout.order[hidden]
    bounds = np.broadcast_to(np.asarray(bound, dtype=np.float64), values.shape)[given]
    scores = _Sorted(layout, ordered, hidden, bounds, np.empty(len(ordered)))
    ratios, modified = _iterate(scores)
    cells = modified.cells
    solved = solve(cells, ratios)
    mean_error, person_error, reader_error = errors_of(cells, ratios, solved, modified.noise)
    return Effects(
        mean=solved.mean,
        person=solved.person,
        reader=solved.reader,
        pair=solved.pair,
        mean_error=mean_error,
        person_error=person_error,
        reader_error=reader_error,
        noise_sd=modified.spread,
        estimation_sd=float(np.sqrt(modified.noise)),
        ratios=ratios,
        cells=cells,
        layout=layout,
    )


def _iterate(scores: _Sorted) -> tuple[Ratios, _Modified]:
    """Fit and modify in turn until the spread holds; the variances are asked for twice on the way."""
    start = scores.values
    if len(scores.hidden):
        start = start.copy()
        start[scores.hidden] = scores.bounds
    cells = scores.layout.cells(start)
    ratios, modified = Ratios(0.5, 0.3 if cells.readers > 1 else 0.0, 0.2), _Modified(cells, 0.0, 0.0)
    for turn in range(ROUNDS):
        fitted = _fitted(modified.cells, solve(modified.cells, ratios, with_inverse=False))
        before, modified = modified, _modify(scores, modified.cells, fitted)
        if turn == 1:
            ratios, _, _ = estimate_ratios(modified.cells, precision=3e-2)
        elif turn == 3:
            ratios, _, _ = estimate_ratios(
                modified.cells, start=ratios, radius=2e-2 if ratios.settled else 0.2, precision=2e-3
            )
        if turn > 3 and abs(modified.spread - before.spread) < 1e-4 * modified.spread:
            break
    return ratios, modified


def _fitted(cells: ScoreCells, solved: SolvedEffects) -> Floats:
    return np.asarray(solved.mean + solved.person[cells.person] + solved.reader[cells.reader] + solved.pair)


def _modify(scores: _Sorted, cells: ScoreCells, fitted: Floats) -> _Modified:
    """Pull each score to within HUBER spreads of its fit, and put hidden ones where they are expected.

    The pull is divided by the share left alone, which makes the modified scores scatter as the estimate does.
    """
    layout, hidden = scores.layout, scores.hidden
    # mode="clip" writes straight into `rest`; no code is out of range
    rest = np.subtract(scores.values, np.take(fitted, layout.cell, out=scores.rest, mode="clip"), out=scores.rest)
    sample = rest[:: max(1, (len(rest) - len(hidden)) // SAMPLE)]
    known = sample[~np.isnan(sample)]
    # a hidden score lies above nearly every other, so it is counted among the far ones
    spread = MAD * float(np.median(np.r_[np.abs(known), np.full(len(sample) - len(known), np.inf)]))
    if not 0 < spread < np.inf:
        spread = float(np.sqrt(np.mean(np.square(known)))) or 1e-12
    reach = HUBER * spread
    alone = float(np.mean(np.abs(known) <= reach)) or 1.0
    noise = float(np.mean(np.square(np.clip(known, -reach, reach)))) / alone**2
    np.clip(rest, -reach, reach, out=rest)
    at = fitted[layout.cell[hidden]]
    rest[hidden] = alone * (expected_above(scores.bounds, at, spread, HUBER) - at)
    sums = layout.sums(rest) / alone
    within = float(np.einsum("i,i->", rest, rest)) / alone**2 - float((np.square(sums) / cells.count).sum())
    return _Modified(replace(cells, mean=fitted + sums / cells.count, within=max(within, 0.0)), spread, noise)


def expected_above(bound: Floats, fitted: Floats, spread: float, reach: float) -> Floats:
    """Return what is expected of normal values above a bound, no more than `reach` spreads from their fit."""
    from scipy.special import log_ndtr

    beyond = (bound - fitted) / spread
    mills = np.exp(-0.5 * np.square(beyond) - 0.5 * np.log(2 * np.pi) - log_ndtr(-beyond))
    return np.asarray(fitted + spread * np.minimum(mills, reach))
