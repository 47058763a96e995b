"""The triangle in tiles is the library's, whatever the size."""

import numpy as np
import pytest
from scipy.linalg import cholesky

from evenhand.scores.effects.cholesky import TILE, dot, lower_triangle


@pytest.mark.parametrize("n", [1, 2, TILE - 1, TILE, TILE + 1, 3 * TILE + 7])
def test_the_triangle_is_that_of_a_reference_library(n: int) -> None:
    half = np.random.default_rng(n).normal(size=(n, n + 3))
    matrix = half @ half.T
    assert lower_triangle(matrix) == pytest.approx(cholesky(matrix, lower=True), rel=1e-9, abs=1e-9)


def test_a_worked_factor_comes_out() -> None:
    # by hand: 2 x 2 = 4, 2 x 6 = 12, 6 x 6 + 1 x 1 = 37, 2 x -8 = -16, 6 x -8 + 1 x 5 = -43, 64 + 25 + 9 = 98
    matrix = np.array([[4.0, 12, -16], [12, 37, -43], [-16, -43, 98]])
    assert lower_triangle(matrix) == pytest.approx(np.array([[2.0, 0, 0], [6, 1, 0], [-8, 5, 3]]))


def test_what_is_not_positive_definite_has_none() -> None:
    with pytest.raises(np.linalg.LinAlgError):
        lower_triangle(np.array([[1.0, 2.0], [2.0, 1.0]]))


def test_an_inner_product_is_the_sum_of_products() -> None:
    assert dot(np.array([1.0, 2.0, 3.0]), np.array([4.0, 5.0, 6.0])) == 32
