"""Fit person, reader and pair effects to scores with a long tail and with refusals whose score is not written.

Huber's estimate by modified residuals: each score is pseudo to within 1.345 spreads of its fit, the sums change, the
equations do not. A refusal without a score counts as what a score above the threshold is expected to be.

Source: Huber (1981), Robust Statistics, chapter 7; Tobin (1958) and Dempster, Laird and Rubin (1977) for the refusals.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.scores.effects.absorbed import Ratios, Solved, errors_of, solve
from evenhand.scores.effects.cells import Cells, index_cells, with_values
from evenhand.scores.effects.variances import estimate_ratios

__all__ = ["Effects", "above", "fit_effects"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

HUBER = 1.345
ROUNDS = 8
SAMPLE = 400_000
MAD = 1.482602218505602


@dataclass(frozen=True)
class Effects:
    """The fit, on the scale it was given: `mean` + person (people,) + reader (readers,) + pair (cells,) + noise.

    `*_error` are standard errors of prediction. `noise_sd` is the spread of single scores around the fit; `ratios`
    are the other standard deviations in units of `estimation_sd`, the noise as the robust estimate feels it.
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
    cells: Cells

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


@dataclass(frozen=True)
class _PseudoValues:
    """The scores after pulling them in: pseudo-values, and the variance that estimates from them feel."""

    values: Floats
    hidden: Floats
    spread: float
    noise: float


def fit_effects(
    person: npt.NDArray[np.integer],
    reader: npt.NDArray[np.integer],
    values: Floats,
    people: int,
    readers: int,
    *,
    hidden_person: npt.NDArray[np.integer] | None = None,
    hidden_reader: npt.NDArray[np.integer] | None = None,
    bound: float | Floats = 0.0,
) -> Effects:
    """Return the effects of scores (scores,) of people and readers by code.

    `hidden_*` are refusals whose score is not written, each above `bound`. They count as full scores, so errors
    are a little too small where they are many.
    """
    if hidden_person is None or hidden_reader is None:
        hidden_person = hidden_reader = np.zeros(0, dtype=np.int64)
    everyone = np.concatenate([person, hidden_person])
    index, of_person, of_reader = index_cells(everyone, np.concatenate([reader, hidden_reader]), readers)
    count = np.bincount(index, minlength=len(of_person)).astype(np.float64)
    cells = Cells(of_person, of_reader, count, np.zeros(len(count)), 0.0, people, readers)
    bounds = np.broadcast_to(np.asarray(bound, dtype=np.float64), hidden_person.shape)
    cells = with_values(cells, index, np.concatenate([values, bounds]))
    cells, ratios, pseudo = _iterate(cells, index, values, bounds)
    solved = solve(cells, ratios)
    mean_error, person_error, reader_error = errors_of(cells, ratios, solved, pseudo.noise)
    return Effects(
        mean=solved.mean,
        person=solved.person,
        reader=solved.reader,
        pair=solved.pair,
        mean_error=mean_error,
        person_error=person_error,
        reader_error=reader_error,
        noise_sd=pseudo.spread,
        estimation_sd=float(np.sqrt(pseudo.noise)),
        ratios=ratios,
        cells=cells,
    )


def _iterate(
    cells: Cells, index: npt.NDArray[np.int32], values: Floats, bounds: Floats
) -> tuple[Cells, Ratios, _PseudoValues]:
    """Fit and pull in turn until the spread holds; the variances are asked for twice on the way."""
    ratios, pseudo = Ratios(0.5, 0.3 if cells.readers > 1 else 0.0, 0.2), _PseudoValues(values, bounds, 0.0, 0.0)
    for turn in range(ROUNDS):
        fitted = _fitted(cells, solve(cells, ratios, with_inverse=False))
        before, pseudo = pseudo, _pseudo_values(values, bounds, fitted[index], len(values))
        cells = with_values(cells, index, np.concatenate([pseudo.values, pseudo.hidden]))
        if turn == 1:
            ratios, _, _ = estimate_ratios(cells, precision=3e-2)
        elif turn == 3:
            ratios, _, _ = estimate_ratios(cells, start=ratios, radius=2e-2, precision=2e-3)
        if turn > 3 and abs(pseudo.spread - before.spread) < 1e-4 * pseudo.spread:
            break
    return cells, ratios, pseudo


def _fitted(cells: Cells, solved: Solved) -> Floats:
    return np.asarray(solved.mean + solved.person[cells.person] + solved.reader[cells.reader] + solved.pair)


def _pseudo_values(values: Floats, bounds: Floats, fitted: Floats, n: int) -> _PseudoValues:
    """Pull each score to within HUBER spreads of its fit, and put hidden ones where they are expected.

    The pull is divided by the share left alone, which makes the pseudo-values scatter as the estimate does.
    """
    residual = values - fitted[:n]
    step = max(1, n // SAMPLE)
    # a hidden score lies above nearly every other, so it is counted among the far ones
    far = np.full(len(bounds) // step, np.inf)
    spread = MAD * float(np.median(np.concatenate([np.abs(residual[::step]), far])))
    if spread <= 0:
        spread = float(np.sqrt(np.mean(np.square(residual)))) or 1e-12
    hidden = above(bounds, fitted[n:], spread, HUBER)
    reach = HUBER * spread
    alone = float(np.mean(np.abs(residual[::step]) <= reach)) or 1.0
    np.clip(residual, -reach, reach, out=residual)
    noise = float(np.mean(np.square(residual[::step]))) / alone**2
    residual /= alone
    residual += fitted[:n]
    return _PseudoValues(residual, hidden, spread, noise)


def above(bound: Floats, fitted: Floats, spread: float, reach: float) -> Floats:
    """Return what is expected of normal values above a bound, no more than `reach` spreads from their fit."""
    from scipy.special import log_ndtr

    beyond = (bound - fitted) / spread
    mills = np.exp(-0.5 * np.square(beyond) - 0.5 * np.log(2 * np.pi) - log_ndtr(-beyond))
    return np.asarray(fitted + spread * np.minimum(mills, reach))
