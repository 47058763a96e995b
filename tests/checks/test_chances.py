"""Exact tails of the binomial."""

from __future__ import annotations

import pytest
from scipy.stats import binom

from evenhand.checks.chances import at_least, at_most


def test_three_heads_of_three():
    # by hand: (1/2)^3 = 0.125 for all three; 7/8 for at most two
    assert at_least(3, 3, 0.5) == pytest.approx(0.125)
    assert at_most(2, 3, 0.5) == pytest.approx(0.875)


@pytest.mark.parametrize(
    ("count", "trials", "share"), [(2, 62, 0.25), (10, 30, 0.0224), (0, 60, 1 / 9), (400, 3000, 0.1)]
)
def test_tails_agree_with_scipy(count, trials, share):
    assert at_most(count, trials, share) == pytest.approx(binom.cdf(count, trials, share), rel=1e-9)
    assert at_least(count, trials, share) == pytest.approx(binom.sf(count - 1, trials, share), rel=1e-9)
