"""An enrolment is judged against the fleet's noise, not by three numbers alone."""

from __future__ import annotations

import numpy as np
import pytest

from evenhand.scores import judge_distances, judge_scores, usual_placing
from evenhand.terms.records import Refusal

FEATURES = 9


def squared(points: np.ndarray) -> np.ndarray:
    return np.square(points[:, None, :] - points[None, :, :]).sum(axis=2)


def presented(rng: np.random.Generator, n: int) -> np.ndarray:
    return rng.normal(0, 1, (n, FEATURES))


def test_ordinary_presentations_pass_99_times_in_100() -> None:
    rng = np.random.default_rng(1)
    passed = [judge_distances(squared(presented(rng, 3)), FEATURES, 1.0).advice == "accept" for _ in range(1000)]
    assert 0.98 <= np.mean(passed) <= 1.0


def test_one_apart_from_two_asks_for_one_more_and_is_then_left_out() -> None:
    rng = np.random.default_rng(2)
    points = presented(rng, 3)
    points[1] += 3.0
    first = judge_distances(squared(points), FEATURES, 1.0)
    assert first.advice == "one_more"
    more = judge_distances(squared(np.vstack([points, presented(rng, 1)])), FEATURES, 1.0)
    assert (more.advice, more.leave_out) == ("leave_one_out", 1)
    assert "Presentation 2 lies apart" in more.says


def test_five_that_disagree_offer_another_way() -> None:
    points = 4 * presented(np.random.default_rng(3), 5)
    judged = judge_distances(squared(points), FEATURES, 1.0)
    assert judged.advice == "another_way"
    assert "another way to clock" in judged.says


def test_scores_against_the_mean_so_far_are_put_on_one_footing() -> None:
    # against a mean of k - 1, a usual presentation scores 2, 1.5, 1.333 times its squared distance of 9
    usual = judge_scores(np.array([18.0, 13.5, 12.0]), 9.0, FEATURES)
    # each counts 9 features: 27 in all, below the chi-square limit of 46.96 on 27 degrees
    assert usual.spread == pytest.approx(27)
    assert usual.limit == pytest.approx(46.96, abs=0.01)
    assert usual.advice == "accept"
    apart = judge_scores(np.array([18.0, 13.5, 80.0]), 9.0, FEATURES)
    assert (apart.advice, apart.leave_out) == ("leave_one_out", 3)


def test_the_first_comparisons_spread_wider_the_fewer_the_presentations() -> None:
    inflation = [judge_distances(np.zeros((n, n)), FEATURES, 1.0).inflation for n in (3, 4, 5)]
    assert inflation == pytest.approx([1.155, 1.118, 1.095], abs=5e-4)


@pytest.mark.parametrize("n", [2, 6])
def test_three_to_five_presentations_are_judged(n: int) -> None:
    with pytest.raises(Refusal, match="3 to 5 presentations"):
        judge_distances(np.zeros((n, n)), FEATURES, 1.0)


def test_after_an_enrolment_scores_are_expected_a_third_above_the_usual() -> None:
    # against a mean of three, a placement of variance r differs by r (1 + 1/3): 9 becomes 12
    assert judge_scores(np.array([18.0, 13.5]), 9.0, FEATURES).expected == pytest.approx(12.0)
    assert "around 12" in judge_scores(np.array([18.0, 13.5]), 9.0, FEATURES).says


def test_the_usual_placing_has_the_mean_and_variance_of_the_scores() -> None:
    # ten scores of 2 and ten of 6: mean 4, variance 20 x 4 / 19 = 4.2105; features 2 x 4^2 / 4.2105 = 7.6
    placing = usual_placing(np.tile([2.0, 6.0], 10))
    assert placing is not None
    assert (placing.usual, placing.features) == pytest.approx((4.0, 7.6))


def test_of_chi_square_scores_the_features_come_back() -> None:
    # the score of nine equal features is chi-square on nine degrees: mean 9, variance 18 (Satterthwaite 1946)
    placing = usual_placing(np.random.default_rng(3).chisquare(9, 50_000))
    assert placing is not None
    assert (placing.usual, placing.features) == pytest.approx((9.0, 9.0), rel=0.03)


def test_too_few_scores_or_all_alike_tell_no_usual_placing() -> None:
    assert usual_placing(np.tile([2.0, 6.0], 9)) is None
    assert usual_placing(np.full(40, 5.0)) is None
