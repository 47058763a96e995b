"""Forecasts name people who will be refused, give a date only where the rise is sure, and order what to do."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from evenhand.scores import fit_scores, forecast
from evenhand.scores.forecasts.levels import slopes_of
from evenhand.scores.forecasts.passage import chance_passed, passage_days
from tests.scores.invented import FIRST, log

LAST = FIRST + timedelta(days=39)


def forecasts(frame: pl.DataFrame, **more: Any) -> pl.DataFrame:
    model = fit_scores(frame)
    assert model is not None
    return forecast(model, int(model.at.max()), **more)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.1, 5), st.floats(0.01, 1), st.floats(0.01, 1), st.floats(0.5, 200))
def test_first_passage_is_scipys_inverse_gaussian(distance: float, drift: float, diffusion: float, days: float) -> None:
    mean, shape = distance / drift, distance**2 / diffusion
    theirs = stats.invgauss(mean / shape, scale=shape).cdf(days)
    assert float(chance_passed(days, distance, drift, diffusion)) == pytest.approx(theirs, abs=1e-7)


@settings(max_examples=40, deadline=None)
@given(st.integers(8, 29), st.integers(0, 10_000), st.sampled_from([0.8, 0.9, 0.95]))
def test_slopes_of_several_people_are_scipys_theil_sen_of_each(points: int, seed: int, confidence: float) -> None:
    rng = np.random.default_rng(seed)
    day = np.arange(29.0)
    level = np.cumsum(rng.normal(0.02, 1, (3, 29)), axis=1)
    for row in level:
        row[np.sort(rng.permutation(29)[points:])] = np.nan
    found = slopes_of(day, level, confidence)
    for i, row in enumerate(level):
        seen = ~np.isnan(row)
        theirs = stats.theilslopes(row[seen], day[seen], alpha=confidence)
        ours = (found.slope[i], found.low[i], found.high[i])
        assert ours == pytest.approx((theirs.slope, theirs.low_slope, theirs.high_slope))


def test_an_unsure_slope_spreads_the_dates() -> None:
    distance, weight = np.full(3, 2.0), np.ones(3)
    sure = passage_days(distance, np.array([0.049, 0.05, 0.051]), weight, 0.001)
    unsure = passage_days(distance, np.array([0.02, 0.05, 0.08]), weight, 0.001)
    # 2 / 0.05 = 40 days
    assert sure[1] == pytest.approx(40, abs=2)
    assert unsure[0] < sure[0] < sure[2] < unsure[2]


def test_a_rising_hand_gets_dates_that_hold_the_truth() -> None:
    # the level rises by 0.018 a day from day 10: the chance of refusal is 5 % where the level is 1.645 x 0.45 below
    # log 18 = 2.890, at 2.150
    frame = log(np.random.default_rng(11), shift=lambda p, r, d: 0.018 * max(d - 10, 0) if p == 9 else 0.0)
    (row,) = forecasts(frame).filter(pl.col("state") == "rising").rows(named=True)
    assert row["person"] == "P009"
    assert row["slope_low"] <= 7 * 0.018 <= row["slope_high"]
    level = frame.filter(pl.col("person") == "P009", pl.col("day") < FIRST + timedelta(days=10))["score"].log().mean()
    crosses = FIRST + timedelta(days=10 + (2.150 - level) / 0.018)
    assert row["likely"] > LAST
    assert row["soonest"] - timedelta(days=5) <= crosses <= row["latest"] + timedelta(days=5)


def test_a_level_is_said_to_have_risen_only_where_the_chart_of_that_hand_alarmed_as_well() -> None:
    frame = log(np.random.default_rng(11), shift=lambda p, r, d: 0.018 * max(d - 10, 0) if p == 9 else 0.0)
    assert set(forecasts(frame, alarmed={"P009"}).filter(pl.col("state") == "rising")["person"]) == {"P009"}
    unseen = forecasts(frame, alarmed={"P003"})
    assert not {"rising", "raised"} & set(unseen["state"])
    assert unseen["saved"].sum() == 0


def test_no_date_where_the_limit_is_as_likely_passed_as_not() -> None:
    # by 0.02 a day the level above stands at the limit on the last day
    frame = log(np.random.default_rng(11), shift=lambda p, r, d: 0.02 * max(d - 10, 0) if p == 5 else 0.0)
    (row,) = forecasts(frame).filter(pl.col("state") == "rising").rows(named=True)
    assert row["person"] == "P005"
    assert (row["soonest"], row["likely"], row["latest"]) == (None, None, None)
    assert "at the soonest" not in row["says"]


def test_no_date_where_nothing_rises() -> None:
    dated = [forecasts(log(np.random.default_rng(seed))).filter(pl.col("likely").is_not_null()) for seed in range(6)]
    # one in two sites is expected to name somebody by chance
    assert sum(frame.height for frame in dated) <= 6


def test_a_jump_that_is_refused_never_heals_and_is_said_at_once() -> None:
    frame = log(np.random.default_rng(13), shift=lambda p, r, d: 2.5 if p == 2 and d >= 39 else 0.0)
    row = forecasts(frame).filter(pl.col("person") == "P002").row(0, named=True)
    assert row["state"] == "locked_out"
    assert "enrol again" in row["says"]


def test_who_saves_most_comes_first_and_a_steady_hand_not_at_all() -> None:
    frame = log(
        np.random.default_rng(17),
        shift=lambda p, r, d: (1.5 if p == 1 else 0.9 if p == 2 else 0.0) if d >= 20 else 0.0,
    )
    named = forecasts(frame)
    assert named["person"].to_list()[:2] == ["P001", "P002"]
    assert named["saved"].is_sorted(descending=True)
    assert named.height < 10


def test_readers_that_never_refused_give_no_forecast() -> None:
    frame = log(np.random.default_rng(19), threshold=np.inf)
    assert forecasts(frame).height == 0


def test_whoever_is_refused_often_as_ever_is_told_nothing_that_a_new_enrolment_would_save() -> None:
    frame = log(np.random.default_rng(23), shift=lambda p, r, d: 1.3 if p == 4 else 0.0)
    row = forecasts(frame).filter(pl.col("person") == "P004").row(0, named=True)
    assert (row["state"], row["saved"]) == ("often_refused", 0)
    assert row["refusal_after"] == row["refusal_now"]
    assert "may help little" in row["says"]
    # counted over the 28 days up to now, in polars
    late = frame.filter(pl.col("person") == "P004", pl.col("at") > frame["at"].max() - 28 * 86_400)
    assert (row["refused"], row["presentations"]) == (late["is_refused"].sum(), late.height)
    assert f"{row['refused']} of {row['presentations']} presentations were refused in the last 28 days" in row["says"]
