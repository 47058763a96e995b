"""Limits from the false alarms a month that somebody accepts, across all charts together.

Where nothing changes, series x points a month / average run length is the expected number of false alarms, and these
add up whatever depends on what; so the budget is dealt out to the kinds of chart and each kind's limit follows. That
is theory, for values that are normal and free of each other; the limits used are no lower, and as high as the log
itself asks for (`shuffled`).

Source: Lucas and Crosier (1982) for run lengths as the measure; the addition is the linearity of expectation.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np

from evenhand.scores.alarms.charts import refusal_step
from evenhand.scores.alarms.refusals import RefusalDays, raised_share
from evenhand.scores.alarms.run_length import cusum_run_length, ewma_run_length, refusal_run_length
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = [
    "Design",
    "Limit",
    "Traffic",
    "check_budget",
    "cusum_limit",
    "design_charts",
    "ewma_limit",
    "refusal_limit",
]

K = 0.5
EWMA_WEIGHT = 0.1
MONTH = 365.25 / 12


@dataclass(frozen=True)
class Traffic:
    """One kind of chart: how many series there are and how many points each gets in a month."""

    series: int
    points_a_month: float


@dataclass(frozen=True)
class Limit:
    """A kind of chart with its limit, and the false alarms a month to be expected of it where nothing changes.

    `raised` is how many times the limit is that of values which are normal and free of each other.
    """

    limit: float
    false_alarms_a_month: float
    raised: float = 1.0


@dataclass(frozen=True)
class Design:
    """All limits, and what refusal charts run over; the false alarms a month add up to the budget.

    `refusing` are the presentations (PRESENTED) at readers whose log holds refusals, `refusals` their days.
    """

    limits: dict[str, Limit]
    refusing: Frame
    refusals: dict[str, RefusalDays]

    @property
    def false_alarms_a_month(self) -> float:
        """Return the false alarms a month to expect of all charts together."""
        return sum(limit.false_alarms_a_month for limit in self.limits.values())


def check_budget(budget: float) -> None:
    """Raise Refusal for a number of false alarms a month [1/month] that no charts can be designed for."""
    if not budget > 0:
        raise Refusal(
            told("{budget:g} false alarms a month cannot be promised; give a number above 0, such as 1.", budget=budget)
        )


def design_charts(budget: float, traffic: Mapping[str, Traffic], usual: float) -> dict[str, Limit]:
    """Return the limits by theory under which all charts together make `budget` false alarms a month.

    Kinds of chart: `hand` and `reader` (CUSUM of standardised values, upward), `reader_drift` (EWMA, both ways),
    `hand_refusals` and `reader_refusals` (CUSUM of log-likelihood ratios, points are presentations). Each kind that
    has series gets an equal part. `usual` is the share of refusals of everybody. Raises Refusal for a budget that is
    not above 0.
    """
    check_budget(budget)
    ways: dict[str, Callable[[float], tuple[float, float]]] = {
        "hand": cusum_limit,
        "reader": cusum_limit,
        "reader_drift": ewma_limit,
        "hand_refusals": partial(_ratio_limit, usual),
        "reader_refusals": partial(_ratio_limit, usual),
    }
    used = {kind: each for kind, each in traffic.items() if each.series and each.points_a_month > 0}
    limits = {}
    for kind, each in used.items():
        points = each.series * each.points_a_month
        limit, length = ways[kind](max(points * len(used) / budget, 2.0))
        limits[kind] = Limit(limit, points / length)
    return limits


def _ratio_limit(usual: float, wanted: float) -> tuple[float, float]:
    """The limit of summed log-likelihood ratios: of refusals counted m - 1 and acceptances 1, an acceptance's worth."""
    usual = min(max(usual, 0.001), 0.3)
    raised = float(raised_share(np.array(usual)))
    limit, length = refusal_limit(wanted, usual, refusal_step(usual, raised))
    return limit * float(-np.log((1 - raised) / (1 - usual))), length


def cusum_limit(wanted: float, k: float = K) -> tuple[float, float]:
    """Return h of the upper CUSUM for the wanted run length in control, and that run length."""
    h = _root(lambda at: cusum_run_length(k, at), wanted, 0.05, max(4.0, np.log(wanted) + 3))
    return h, cusum_run_length(k, h)


def ewma_limit(wanted: float, weight: float = EWMA_WEIGHT) -> tuple[float, float]:
    """Return L of the two-sided EWMA with exact limits for the wanted run length in control, and that run length."""
    limit = _root(lambda at: ewma_run_length(weight, at), wanted, 0.5, 6.5)
    return limit, ewma_run_length(weight, limit)


def refusal_limit(wanted: float, usual: float, m: int) -> tuple[float, float]:
    """Return the smallest limit of the CUSUM of refusals that runs at least `wanted` presentations, and how long."""
    low, high = 1, 2 * m
    while refusal_run_length(usual, m, high) < wanted:
        low, high = high, 2 * high
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if refusal_run_length(usual, m, middle) < wanted else (low, middle)
    return float(high), refusal_run_length(usual, m, high)


def _root(length: Callable[[float], float], wanted: float, low: float, high: float) -> float:
    from scipy.optimize import brentq

    if length(low) >= wanted:
        return low
    return float(brentq(lambda at: np.log(length(at)) - np.log(wanted), low, high, xtol=1e-6))
