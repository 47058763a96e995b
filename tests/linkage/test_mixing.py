"""Chances that differ from person to person: weights and learning beside scipy's binomial and its optimiser."""

from __future__ import annotations

from math import log2

import numpy as np
import pytest
from scipy.optimize import minimize
from scipy.stats import beta, binom

from evenhand.linkage.weights.mixing import CHANCES, TRIALS, learned_by_trials, learned_mixing, mixed_bits, shaped


def only(chance: float) -> np.ndarray:
    return (chance == CHANCES).astype(float)


def test_a_shape_is_the_beta_distribution_over_the_chances() -> None:
    bounds = np.concatenate([[0], (CHANCES[1:] + CHANCES[:-1]) / 2, [1]])
    assert shaped(2.0, 5.0) == pytest.approx(np.diff(beta(2, 5).cdf(bounds)))  # scipy.stats, another way to it


def test_alike_chances_weigh_as_binomials_and_no_trial_weighs_nothing() -> None:
    k, n = np.array([0, 3, 12, 0]), np.array([4, 5, 12, 0])
    expected = np.log2(binom.pmf(k, n, 0.9) / binom.pmf(k, n, 0.1))
    assert mixed_bits(k, n, only(0.9), only(0.1)) == pytest.approx(expected)


def test_ten_silent_days_are_one_stretch_of_leave_as_often_as_people_are_on_leave() -> None:
    leave = 0.88 * only(0.02) + 0.12 * only(0.997)
    ten = float(mixed_bits(np.array([10]), np.array([10]), only(0.997), leave)[0])
    assert ten == pytest.approx(np.log2(1 / 0.12), abs=1e-3)
    # as ten independent facts they would be fifty bits
    assert float(mixed_bits(np.array([10]), np.array([10]), only(0.997), only(0.02))[0]) > 50


def test_what_is_learned_makes_the_counts_likeliest() -> None:
    rng = np.random.default_rng(5)
    n = rng.integers(1, 13, 300)
    k = rng.binomial(n, np.where(rng.random(300) < 0.3, 0.9, 0.05))
    often, before, pseudo = rng.random(300), shaped(1.0, 1.0), 10.0
    chances = binom.pmf(k[:, None], n[:, None], CHANCES)

    def reached(shares: np.ndarray) -> float:
        return float(often @ np.log(chances @ shares) + pseudo * before @ np.log(shares))

    def unlikely(free: np.ndarray) -> float:
        shares = np.exp(free - free.max())
        return -reached(shares / shares.sum())

    by_scipy = minimize(unlikely, np.zeros(len(CHANCES)), method="BFGS")
    found = learned_mixing(k, n, often, before, pseudo)
    assert found.sum() == pytest.approx(1)
    assert reached(found) == pytest.approx(-by_scipy.fun, abs=0.1)
    # and better than what was believed before
    assert reached(found) > reached(before) + 10


def test_without_anything_seen_what_was_believed_stays() -> None:
    none = np.array([0])
    assert learned_mixing(none, none, np.ones(1), shaped(1.0, 2.0), 10.0) == pytest.approx(shaped(1.0, 2.0))


def test_few_days_in_one_stretch_of_leave_weigh_less_than_many_over_months() -> None:
    # of people who are nobody's match, one of ten is on leave on all of three days, and one of ten on six of twelve
    k, n = np.repeat([0, 3, 0, 6], [90, 10, 90, 10]), np.repeat([3, 12], 100)
    learned = learned_by_trials(k, n, np.ones(200), shaped(0.15, 1.5), 1.0)
    assert learned.shape == (len(TRIALS), len(CHANCES))
    three, twelve = mixed_bits(np.array([3, 12]), np.array([3, 12]), only(0.997), learned)
    assert three == pytest.approx(log2(1 / 0.1), abs=0.4)
    assert twelve > three + 3
    # where nothing was seen, all together tell
    assert learned[0] == pytest.approx(learned_mixing(k, n, np.ones(200), shaped(0.15, 1.5), 1.0))
