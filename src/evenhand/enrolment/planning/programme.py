"""An integer programme, put together row by row and solved by HiGHS."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

__all__ = ["Programme", "SolvedProgramme"]

Terms = Iterable[tuple[int, float]]


@dataclass(frozen=True)
class SolvedProgramme:
    """An answer: the variables' `values` (none where the search found nothing), and a `bound` no answer beats."""

    values: npt.NDArray[np.int64] | None
    bound: float


@dataclass
class Programme:
    """Whole-number variables from 0 up, and rows that bound their weighted sums."""

    costs: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    _row: list[int] = field(default_factory=list)
    _column: list[int] = field(default_factory=list)
    _weight: list[float] = field(default_factory=list)
    _low: list[float] = field(default_factory=list)
    _high: list[float] = field(default_factory=list)

    def variable(self, most: float, cost: float = 0.0) -> int:
        """Add a variable between 0 and `most` and return its place."""
        self.costs.append(cost)
        self.most.append(most)
        return len(self.costs) - 1

    def require(self, terms: Terms, low: float = -np.inf, high: float = np.inf) -> None:
        """Keep the weighted sum of variables between `low` and `high`."""
        for column, weight in terms:
            self._row.append(len(self._low))
            self._column.append(column)
            self._weight.append(weight)
        self._low.append(low)
        self._high.append(high)

    def solve(self, seconds: float) -> SolvedProgramme:
        """Return the cheapest answer, or the best one found in `seconds`.

        Source: Huangfu and Hall 2018, the HiGHS solver, as scipy.optimize.milp calls it.
        """
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        if not self.costs:
            return SolvedProgramme(np.zeros(0, dtype=np.int64), 0.0)
        shape = (len(self._low), len(self.costs))
        matrix = csr_array((self._weight, (self._row, self._column)), shape=shape)
        answer = milp(
            np.asarray(self.costs),
            integrality=np.ones(len(self.costs)),
            bounds=Bounds(0, np.asarray(self.most)),
            constraints=LinearConstraint(matrix, self._low, self._high),
            options={"time_limit": max(seconds, 0.1), "mip_rel_gap": 0.0},
        )
        found = answer.x is not None
        values = np.rint(answer.x).astype(np.int64) if found else None
        bound = answer.mip_dual_bound if answer.mip_dual_bound is not None else -np.inf
        return SolvedProgramme(values, float(bound))
