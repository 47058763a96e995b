"""Changes of level that are taken out before limits are, against fits of levels by other means."""

from __future__ import annotations

from itertools import combinations, pairwise

import numpy as np
import pytest
from statsmodels.regression.linear_model import OLS

from evenhand.scores.alarms.shuffled import PLAIN, SHORTEST, _levels


def by_reference(values: np.ndarray, levels: int) -> tuple[float, list[int]]:
    """The highest likelihood of so many levels over every way to part the series, and that way.

    Source: statsmodels, OLS on one column a level.
    """
    count = len(values)
    best, kept = -np.inf, [0, count]
    for inner in combinations(range(SHORTEST, count - SHORTEST + 1), levels - 1):
        cuts = [0, *inner, count]
        if min(end - begin for begin, end in pairwise(cuts)) < SHORTEST:
            continue
        columns = np.zeros((count, levels))
        for level, (begin, end) in enumerate(pairwise(cuts)):
            columns[begin:end, level] = 1
        found = float(OLS(values, columns).fit().llf)
        if found > best:
            best, kept = found, cuts
    return best, kept


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_step_is_taken_out_where_a_reference_fit_of_two_levels_puts_it(seed: int) -> None:
    values = np.random.default_rng(seed).normal(0, 1, 40)
    values[25:] += 4
    two, cuts = by_reference(values, 2)
    one, _ = by_reference(values, 1)
    assert _levels(values, float(values.var()), PLAIN) == cuts
    # the likelihood that is won is what decides: just below it the step is plain, just above it is not
    assert _levels(values, float(values.var()), two - one - 0.01) == cuts
    assert _levels(values, float(values.var()), two - one + 0.01) == [0, 40]


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_what_came_and_went_is_taken_out_where_a_reference_fit_of_three_levels_puts_it(seed: int) -> None:
    values = np.random.default_rng(seed).normal(0, 1, 30)
    values[10:20] += 5
    three, cuts = by_reference(values, 3)
    one, _ = by_reference(values, 1)
    assert three - one > 2 * PLAIN
    assert _levels(values, float(values.var()), PLAIN) == cuts
