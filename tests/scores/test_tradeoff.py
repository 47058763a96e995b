"""Thresholds are advised in costs, and a false match rate always says where it comes from."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from evenhand.scores import Costs, advise_threshold, tradeoff
from evenhand.terms.records import Refusal

SCORES = st.lists(st.floats(0, 100), min_size=1, max_size=40).map(np.array)


@settings(max_examples=40, deadline=None)
@given(SCORES, SCORES)
def test_the_two_rates_move_oppositely_with_the_threshold(mated: np.ndarray, non_mated: np.ndarray) -> None:
    curve = tradeoff(mated, non_mated, "test")
    assert (np.diff(curve["false_non_match_rate"].to_numpy()) <= 0).all()
    assert (np.diff(curve["false_match_rate"].to_numpy()) >= 0).all()
    for row in curve.iter_rows(named=True):
        assert row["false_match_rate"] == pytest.approx(np.mean(non_mated <= row["threshold"]))


def test_the_rates_are_the_empirical_distributions_of_scipy() -> None:
    rng = np.random.default_rng(1)
    mated, non_mated = rng.chisquare(9, 300), 4 * rng.chisquare(9, 300)
    curve = tradeoff(mated, non_mated, "simulation")
    at = curve["threshold"].to_numpy()
    assert curve["false_non_match_rate"].to_numpy() == pytest.approx(stats.ecdf(mated).sf.evaluate(at))
    assert curve["false_match_rate"].to_numpy() == pytest.approx(stats.ecdf(non_mated).cdf.evaluate(at))


def test_non_mated_scores_must_say_where_they_come_from() -> None:
    with pytest.raises(Refusal, match="say where the non-mated scores come from"):
        tradeoff(np.ones(3), np.ones(3), "log")


def test_a_log_has_no_trade_off() -> None:
    with pytest.raises(Refusal, match="plan a test"):
        tradeoff(np.ones(3), np.zeros(0), "test")


def test_advice_names_minutes_and_the_origin_of_the_chance() -> None:
    mated, non_mated = np.arange(1.0, 101.0), np.arange(80.0, 180.0)
    curve = tradeoff(mated, non_mated, "test")
    # no wrong hand is ever tried: the highest threshold refuses nobody and costs nothing
    free = advise_threshold(curve, Costs(1000, 0.5), 50)
    assert free.threshold == 100
    # at 50, half of 1000 presentations are refused, half a minute each
    assert free.present_minutes_a_week == pytest.approx(250)
    assert "(test)" in free.says
    # 5,200 wrong hands a year are 100 a week; each that passes costs 1000 minutes, so none of them shall
    assert advise_threshold(curve, Costs(1000, 0.5, 5200, 1000)).threshold == 79
