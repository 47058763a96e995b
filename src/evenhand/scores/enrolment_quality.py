"""The quality of an enrolment from its three to five presentations: pass, ask for one more, or leave one out.

The presentations are judged against the whole fleet's placement noise: three numbers judged by themselves tell almost
nothing, since two that agree and one apart happens by chance all the time.

Source: chi-square and Satterthwaite (1946), Biometrics Bulletin 2:110-114. Three presentations, or up to five where
they disagree: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal

__all__ = ["EnrolmentQuality", "PlacementNoise", "assess_enrolment", "estimate_placement"]

Floats = npt.NDArray[np.float64]
EnrolmentAdvice = Literal["accept", "one_more", "leave_one_out", "another_way"]

AGREE = sentence(
    "The {count} presentations agree; until the reference settles, scores spread {times:.2f} times as wide, around "
    "{score:.2g}."
)
APART = sentence("Presentation {number} lies apart from the others, which agree: leave it out.")
FEWEST, MOST = 3, 5
SURE = 0.99
FEWEST_SCORES = 20
"""Scores from which the placement usual at a reader is taken to be known. Common practice, no source."""


@dataclass(frozen=True)
class EnrolmentQuality:
    """What to do with an enrolment: `leave_out` is the presentation to discard, from 0, where one is.

    `spread` and `limit` are the sum of squares and what it may be; `inflation` is by how much the standard deviation
    of the first comparisons exceeds that with an ideal reference; `expected` is the mean score of a usual hand in
    these first comparisons.
    """

    advice: EnrolmentAdvice
    leave_out: int | None
    spread: float
    limit: float
    inflation: float
    expected: float
    says: str


@dataclass(frozen=True)
class PlacementNoise:
    """How hands are usually laid down: the mean score, and how many equal features would scatter so."""

    usual: float
    features: float


def estimate_placement(scores: Floats) -> PlacementNoise | None:
    """Return the usual placement from everyday scores of settled references; None for fewer than twenty, or all alike.

    Scores are taken for squared distances, whose variance is 2 mean^2 / features; people's own steadiness makes that
    fewer features and a wider limit. Source: Satterthwaite (1946).
    """
    if len(scores) < FEWEST_SCORES or float(np.ptp(scores)) == 0:
        return None
    usual = float(np.mean(scores))
    return PlacementNoise(usual, 2 * usual**2 / float(np.var(scores, ddof=1)))


def assess_enrolment(scores: Floats, usual: float, features: float) -> EnrolmentQuality:
    """Return the advice from the scores of presentations 2 to n, each against the mean of those before it.

    `usual` is the fleet's mean squared distance to a settled reference. The k-th presentation against the mean of
    k - 1 scores k / (k - 1) times that, so each is divided by it. Which one to leave out cannot be seen from these
    scores where the second differs: then it is the first or the second, and one more is asked for.
    """
    n = len(scores) + 1
    _check(n)
    from scipy.special import chdtri

    k = np.arange(2, n + 1)
    standard = scores * (k - 1) / k / usual * features
    limit = float(chdtri(features * (n - 1), 1 - SURE))
    spread = float(standard.sum())
    if spread <= limit:
        return _accepted(n, spread, limit, usual)
    worst = int(np.argmax(standard))
    others = spread - float(standard[worst])
    one_apart = (
        worst > 0 and standard[worst] > chdtri(features, 1 - SURE) and others <= chdtri(features * (n - 2), 1 - SURE)
    )
    return _otherwise(n, worst + 1 if one_apart else None, spread, limit, usual)


def _check(n: int) -> None:
    if not FEWEST <= n <= MOST:
        raise Refusal(
            told(
                "an enrolment is judged from {fewest} to {most} presentations, not {n}.", fewest=FEWEST, most=MOST, n=n
            )
        )


def _accepted(n: int, spread: float, limit: float, usual: float) -> EnrolmentQuality:
    inflation, expected = _at_first(n, usual)
    says = AGREE.format(count=n, times=inflation, score=expected)
    return EnrolmentQuality("accept", None, spread, limit, inflation, expected, says)


def _otherwise(n: int, worst: int | None, spread: float, limit: float, usual: float) -> EnrolmentQuality:
    inflation, expected = _at_first(n - 1 if worst is not None else n, usual)
    if worst is not None and n > FEWEST:
        says = APART.format(number=worst + 1)
        return EnrolmentQuality("leave_one_out", worst, spread, limit, inflation, expected, says)
    if n < MOST:
        says = sentence("The presentations disagree more than placement explains: lay the hand down once more.")
        return EnrolmentQuality("one_more", worst, spread, limit, inflation, expected, says)
    says = sentence("Five presentations still disagree: try on another day, or offer another way to clock.")
    return EnrolmentQuality("another_way", None, spread, limit, inflation, expected, says)


def _at_first(n: int, usual: float) -> tuple[float, float]:
    """The spread and the mean of the first comparisons with a mean of n: 1 + 1/n of one placement's variance."""
    return float(np.sqrt(1 + 1 / n)), usual * (1 + 1 / n)
