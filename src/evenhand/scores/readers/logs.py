"""The log of each reader as columns by reader and time, with the counts by day that several statistics start from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.scores.coding import code_names, codes_of
from evenhand.terms.columns import Frame

__all__ = ["Logs", "logs_of"]

Ints = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Logs:
    """Presentations (rows,) of `readers` by reader and time; the log of reader i is `starts[i]` to `starts[i + 1]`."""

    presented: Frame
    readers: list[str]
    starts: Ints
    at: Ints
    is_refused: npt.NDArray[np.bool_]
    day: npt.NDArray[np.integer[Any]]

    def log(self, reader: int) -> slice:
        """Return the rows of one reader."""
        return slice(int(self.starts[reader]), int(self.starts[reader + 1]))

    @cached_property
    def first_day(self) -> int:
        """Return the first civil day logged anywhere [days since 1970]."""
        return int(self.day.min(initial=0 if not len(self.day) else self.day[0]))

    @cached_property
    def daily(self) -> Ints:
        """Return presentations by reader and civil day (readers, days), from the first day on."""
        days = int(self.day.max(initial=self.first_day)) - self.first_day + 1
        counts = [np.bincount(self.day[self.log(i)] - self.first_day, minlength=days) for i in range(len(self.readers))]
        return np.array(counts, dtype=np.int64).reshape(len(self.readers), days)


def logs_of(presented: Frame) -> Logs:
    """Return the logs in presentations (PRESENTED)."""
    presented = code_names(presented)
    codes, readers = codes_of(presented["reader"])
    return Logs(
        presented=presented,
        readers=readers,
        starts=np.searchsorted(codes, np.arange(len(readers) + 1)),
        at=presented["at"].to_numpy(),
        is_refused=presented["is_refused"].to_numpy(),
        day=presented["day"].to_physical().to_numpy(),
    )
