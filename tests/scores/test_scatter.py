"""The tail of scores is the one the log has, and a change that stands out among many is not believed at once."""

from __future__ import annotations

import numpy as np
import polars as pl
import pytest
from scipy import stats

from evenhand.scores import fit_scores, forecast
from evenhand.scores.forecasts.distances import distances_of
from evenhand.scores.forecasts.scatter import scatter_of, tail_of
from evenhand.scores.forecasts.shrunken import believed_changes
from evenhand.scores.forecasts.tries import tries_of
from evenhand.scores.paths import likely_paths
from tests.scores.invented import log, rows


def test_the_tail_with_hidden_scores_is_scipys_product_limit() -> None:
    rng = np.random.default_rng(1)
    z = rng.normal(0, 1, 3000)
    bound = rng.uniform(0.5, 3.0, 3000)
    hidden = z > bound
    at, beyond, _ = tail_of(np.where(hidden, bound, z), hidden)
    theirs = stats.ecdf(stats.CensoredData.right_censored(np.where(hidden, bound, z), hidden)).sf
    assert beyond == pytest.approx(theirs.evaluate(at))


@pytest.mark.parametrize("law", [stats.norm(), stats.t(3, scale=1 / np.sqrt(3)), stats.laplace(scale=1 / np.sqrt(2))])
def test_chances_far_out_are_those_of_the_law_that_scores_follow(law: stats.rv_continuous) -> None:
    z = law.rvs(60_000, random_state=np.random.default_rng(2))
    at, beyond, excess = tail_of(z, np.zeros(len(z), dtype=bool))
    for share in (0.2, 0.05, 0.02):
        assert np.interp(law.isf(share), at, beyond) == pytest.approx(share, rel=0.1)
    # beyond the last hundredth an exponential tail is drawn on: right within a factor of two at a thousandth
    far = beyond[-1] * np.exp(-(law.isf(0.001) - at[-1]) / excess)
    assert 0.0005 < far < 0.002


def test_a_persons_own_width_is_found_as_far_as_scores_are_many() -> None:
    model = fit_scores(log(np.random.default_rng(3), people=40))
    assert model is not None
    width = scatter_of(model, np.ones(len(model.values), dtype=bool)).width
    # everybody was drawn with the same spread of 0.45
    assert np.median(width) == pytest.approx(0.45, rel=0.15)
    assert np.ptp(width) < 0.25


def test_what_stands_out_among_many_that_only_wander_is_not_believed() -> None:
    rng = np.random.default_rng(4)
    named, claimed = 0, 0.0
    for _ in range(50):
        found = believed_changes(rng.normal(0, 1, 200), np.full(200, 1.0))
        named += int((found.chance >= 0.9).sum())
        claimed += float((found.chance * np.maximum(found.mean, 0)).sum())
    assert named <= 5
    # in 10,000 changes of nothing, a spread of one each, next to nothing is claimed in sum
    assert claimed < 200


def test_true_changes_are_believed_and_claimed_in_full() -> None:
    rng = np.random.default_rng(5)
    true = claimed = named = 0.0
    for _ in range(20):
        moved = np.zeros(200)
        moved[:8] = rng.uniform(4, 9, 8)
        found = believed_changes(moved + rng.normal(0, 1, 200), np.full(200, 1.0))
        named += float((found.chance[:8] >= 0.9).sum())
        claimed += float((found.chance * found.mean).sum())
        true += float(moved.sum())
    assert named / 160 > 0.85
    assert claimed == pytest.approx(true, rel=0.1)


def test_errors_said_too_small_are_seen_in_the_middle_of_all() -> None:
    # days that hang together make changes three times as wide as single scores say
    rng = np.random.default_rng(6)
    named = sum(
        int((believed_changes(3 * rng.normal(0, 1, 200), np.full(200, 1.0)).chance >= 0.9).sum()) for _ in range(20)
    )
    assert named <= 4


def test_where_nothing_changes_nobody_is_said_to_gain() -> None:
    for seed in range(6):
        model = fit_scores(log(np.random.default_rng(100 + seed)))
        assert model is not None
        found = forecast(model, int(model.at.max()))
        assert found["saved"].sum() < 1.0
        assert not set(found["state"]) & {"rising", "raised"}


@pytest.mark.parametrize(("kind", "height"), [("step", 0.9), ("drift", 0.02)])
def test_what_a_level_was_and_is_comes_from_the_way_it_moved(kind: str, height: float) -> None:
    was, now, drifts, surely = [], [], [], []
    for seed in range(20):
        rng = np.random.default_rng(seed)
        day = np.arange(80)
        moved = height * (day >= 35) * (1.0 if kind == "step" else day - 34.0)
        paths = likely_paths(day, 2 + moved + rng.normal(0, 0.2, 80), np.full(80, 0.04))
        was.append(paths.weight @ paths.was)
        now.append(paths.weight @ paths.now)
        drifts.append(paths.drift)
        surely.append(paths.sure)
    assert all(sure > 0.99 for sure in surely)
    assert np.mean(was) == pytest.approx(2.0, abs=0.03)
    # 0.9 since the step; 45 days of 0.02 each
    assert np.mean(now) == pytest.approx(2.9, abs=0.05)
    assert (np.array(drifts) > 0.5).mean() == (0.0 if kind == "step" else 1.0)


def test_a_level_that_stays_is_seldom_taken_to_have_risen() -> None:
    rng = np.random.default_rng(11)
    sure = [likely_paths(np.arange(80), rng.normal(2, 0.2, 80), np.full(80, 0.04)).sure for _ in range(100)]
    # one in fifty is taken to have risen before anything is seen
    assert np.mean(sure) < 0.02
    assert np.mean(np.array(sure) > 0.5) <= 0.01


def test_a_level_of_few_days_has_not_risen() -> None:
    few = likely_paths(np.arange(5), np.array([2.0, 2.0, 2.0, 5.0, 5.0]), np.full(5, 0.04))
    # 16 / 5
    assert few.weight @ few.now == few.weight @ few.was == pytest.approx(3.2)


def test_second_tries_that_are_like_the_first_are_told_from_those_that_are_not() -> None:
    rng = np.random.default_rng(8)
    for alike in (0.0, 0.6):
        made, chance = [], np.full(40, 0.12)
        for visit, person in enumerate(rng.integers(0, 40, 6000).tolist()):
            for turn in range(3):
                is_refused = bool(rng.random() < (chance[person] if turn == 0 else alike + (1 - alike) * 0.12))
                at = 1200 * visit + 5 * turn
                score = 30.0 if is_refused else float(rng.integers(5, 18))
                made.append(
                    {"person": f"P{person:02d}", "reader": "A", "at": at, "is_refused": is_refused, "score": score}
                )
                if not is_refused:
                    break
        model = fit_scores(rows(*made))
        assert model is not None
        tries = tries_of(model)
        assert int(tries.is_first.sum()) == 6000
        assert tries.alike == pytest.approx(alike, abs=0.07)
        refused = sum(one["is_refused"] for one in made)
        assert tries.refused(np.array([0.12]))[0] * 6000 == pytest.approx(refused, rel=0.06)
        assert tries.made(np.array([0.12]))[0] * 6000 == pytest.approx(len(made), rel=0.02)


def test_a_reader_that_writes_in_tens_refuses_from_between_two_of_them() -> None:
    frame = log(np.random.default_rng(9), spread=0.3).with_columns(score=pl.col("score").round() * 10)
    frame = frame.filter(pl.col("score") > 0).with_columns(is_refused=pl.col("score") > 75)
    model = fit_scores(frame)
    assert model is not None
    distances = distances_of(model)
    # 70 is the highest accepted, 80 the lowest refused
    effects = model.effects
    bare = (
        distances.at
        + effects.pair
        + (effects.reader + model.daily.reader_shift[:, -7:].mean(axis=1))[effects.cells.reader]
    )
    assert np.asarray(model.scale.back(bare)) == pytest.approx(75.0)


def test_spreads_that_grow_with_the_level_are_learnt_from_people_who_differ() -> None:
    rng = np.random.default_rng(10)
    for growth in (0.0, 0.8):
        # on a plain scale: between 20 and 30 the spread grows by a hundredth of `growth` for each tenth of the level
        level = rng.normal(25, 2.0, 80)
        made = []
        for person in range(80):
            spread = 1.5 * np.exp(growth * (level[person] - 25) / 8)
            for at, score in enumerate(level[person] + rng.normal(0, spread, 150)):
                row = {"person": f"P{person:02d}", "reader": "A", "at": 3600 * at + person, "score": float(score)}
                made.append(row | {"is_refused": bool(score > 31)})
        model = fit_scores(rows(*made))
        assert model is not None
        scatter = scatter_of(model, tries_of(model).is_first)
        high = np.flatnonzero(level > 27)
        moved = scatter.usual[high] + model.scale.to(np.array(27.0)) - model.scale.to(np.array(23.0))
        wider = scatter.chance(high, np.full(len(high), 0.01), moved) / scatter.chance(
            high, np.full(len(high), 0.01), scatter.usual[high]
        )
        assert np.isfinite(wider).all()
        assert (scatter.growth == 0.0) == (growth == 0.0) or abs(scatter.growth) < 0.02
