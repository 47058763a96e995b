"""The tail of scores is the one the log has, and a change that stands out among many is not believed at once."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from evenhand.scores import fit_scores, forecast
from evenhand.scores.forecasts.scatter import scatter_of, tail_of
from evenhand.scores.forecasts.shrunken import believed_changes
from tests.scores.invented import log


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
    width = scatter_of(model).width
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
