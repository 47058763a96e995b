"""An enrolment is judged against the fleet's noise, not by three numbers alone."""

from __future__ import annotations

import numpy as np
import pytest

from evenhand.scores import assess_enrolment, estimate_placement
from evenhand.terms.records import Refusal

FEATURES = 9


def compared(points: np.ndarray) -> np.ndarray:
    """The scores of presentations 2 to n: squared distances to the mean of those before."""
    return np.array([np.square(points[k] - points[:k].mean(axis=0)).sum() for k in range(1, len(points))])


def presented(rng: np.random.Generator, n: int) -> np.ndarray:
    return rng.normal(0, 1, (n, FEATURES))


def test_ordinary_presentations_pass_99_times_in_100() -> None:
    rng = np.random.default_rng(1)
    judged = [assess_enrolment(compared(presented(rng, 3)), FEATURES, FEATURES).advice for _ in range(1000)]
    # 990 expected, and three standard deviations of a binomial count are 9.4
    assert 980 <= judged.count("accept") <= 1000


def test_one_apart_from_two_asks_for_one_more_and_is_then_left_out() -> None:
    points = presented(np.random.default_rng(2), 4)
    points[2] += 3.0
    first = assess_enrolment(compared(points[:3]), FEATURES, FEATURES)
    assert first.advice == "one_more"
    more = assess_enrolment(compared(points), FEATURES, FEATURES)
    assert (more.advice, more.leave_out) == ("leave_one_out", 2)
    assert "Presentation 3 lies apart" in more.says


def test_five_that_disagree_offer_another_way() -> None:
    judged = assess_enrolment(compared(4 * presented(np.random.default_rng(3), 5)), FEATURES, FEATURES)
    assert judged.advice == "another_way"
    assert "another way to clock" in judged.says


def test_scores_against_the_mean_so_far_are_put_on_one_footing() -> None:
    # against a mean of k - 1, a usual presentation scores 2, 1.5, 1.333 times its squared distance of 9
    usual = assess_enrolment(np.array([18.0, 13.5, 12.0]), 9.0, FEATURES)
    # each counts 9 features: 27 in all, below the chi-square limit of 46.96 on 27 degrees
    assert usual.spread == pytest.approx(27)
    assert usual.limit == pytest.approx(46.96, abs=0.01)
    assert usual.advice == "accept"
    apart = assess_enrolment(np.array([18.0, 13.5, 80.0]), 9.0, FEATURES)
    assert (apart.advice, apart.leave_out) == ("leave_one_out", 3)


def test_the_first_comparisons_spread_wider_the_fewer_the_presentations() -> None:
    inflation = [assess_enrolment(np.zeros(n - 1), 1.0, FEATURES).inflation for n in (3, 4, 5)]
    assert inflation == pytest.approx([1.155, 1.118, 1.095], abs=5e-4)


@pytest.mark.parametrize("n", [2, 6])
def test_three_to_five_presentations_are_judged(n: int) -> None:
    with pytest.raises(Refusal, match="3 to 5 presentations"):
        assess_enrolment(np.zeros(n - 1), 1.0, FEATURES)


def test_after_an_enrolment_scores_are_expected_a_third_above_the_usual() -> None:
    # against a mean of three, a placement of variance r differs by r (1 + 1/3): 9 becomes 12
    assert assess_enrolment(np.array([18.0, 13.5]), 9.0, FEATURES).expected == pytest.approx(12.0)
    assert "around 12" in assess_enrolment(np.array([18.0, 13.5]), 9.0, FEATURES).says


def test_the_usual_placing_has_the_mean_and_variance_of_the_scores() -> None:
    # ten scores of 2 and ten of 6: mean 4, variance 20 x 4 / 19 = 4.2105; features 2 x 4^2 / 4.2105 = 7.6
    placement = estimate_placement(np.tile([2.0, 6.0], 10))
    assert placement is not None
    assert (placement.usual, placement.features) == pytest.approx((4.0, 7.6))


def test_of_chi_square_scores_the_features_come_back() -> None:
    # the score of nine equal features is chi-square on nine degrees: mean 9, variance 18 (Satterthwaite 1946)
    placement = estimate_placement(np.random.default_rng(3).chisquare(9, 50_000))
    assert placement is not None
    assert (placement.usual, placement.features) == pytest.approx((9.0, 9.0), rel=0.03)


def test_too_few_scores_or_all_alike_tell_no_usual_placing() -> None:
    assert estimate_placement(np.tile([2.0, 6.0], 9)) is None
    assert estimate_placement(np.full(40, 5.0)) is None
