"""The line at a row of readers, person by person: no steady state is assumed."""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

__all__ = ["Waits", "at_the_door", "percentile", "readers_at_the_door", "readers_in_line", "simulated", "waits"]

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Waits:
    """How long people waited [s]: on average, what 95 % stay within, and the longest; `last_s` is when all are done."""

    people: int
    mean_s: float
    p95_s: float
    longest_s: float
    last_s: float
    lost_s: float


def waits(arrivals: Floats, service: float | Floats, readers: int) -> Floats:
    """Return each person's wait [s], for arrivals in order [s], served in that order by the first reader free.

    `service` is what one person takes [s], or each person's own.
    Source: Kiefer and Wolfowitz 1955; with fixed service D_i = max(A_i, D_{i-c}) + s.
    """
    if np.ndim(service) == 0:
        return _fixed(np.asarray(arrivals, dtype=np.float64), float(service), readers)
    free = [-math.inf] * readers
    waited = np.zeros(len(arrivals))
    for i, (comes, takes) in enumerate(zip(arrivals, np.asarray(service), strict=True)):
        begins = max(comes, heapq.heappop(free))
        waited[i] = begins - comes
        heapq.heappush(free, begins + takes)
    return waited


def _fixed(arrivals: Floats, service: float, readers: int) -> Floats:
    waited = np.zeros(len(arrivals))
    for reader in range(readers):  # with fixed service readers take turns, so each serves every c-th person
        mine = arrivals[reader::readers]
        place = np.arange(len(mine)) * service
        waited[reader::readers] = np.maximum.accumulate(mine - place) + place - mine
    return waited


def percentile(waited: Floats, share: float = 0.95) -> float:
    """Return the ceil(share x n)-th smallest wait; 0 for nobody."""
    if not len(waited):
        return 0.0
    # The little less keeps 0.95 x 120 = 114.00000000000001 from meaning the 115th.
    place = max(math.ceil(share * len(waited) - 1e-9), 1) - 1
    return float(np.partition(waited, place)[place])


def measured(arrivals: Floats, waited: Floats, service: float) -> Waits:
    """Return what these waits come to."""
    if not len(waited):
        return Waits(0, 0.0, 0.0, 0.0, 0.0, 0.0)
    last = float((arrivals + waited).max()) + service
    return Waits(len(waited), float(waited.mean()), percentile(waited), float(waited.max()), last, float(waited.sum()))


def simulated(
    people: int, within_s: float, service: float, readers: int, *, runs: int, rng: np.random.Generator
) -> tuple[Floats, Floats]:
    """Return the waits [s] (runs, people) of people arriving at random within a window, and each run's end [s]."""
    arrivals = np.sort(rng.uniform(0, within_s, (runs, people)), axis=1)
    waited = np.stack([_fixed(run, service, readers) for run in arrivals])
    return waited, (arrivals + waited).max(axis=1) + service


def at_the_door(people: int, service: float, readers: int, share: float = 0.95) -> tuple[float, float]:
    """Return when `share` of the people are through and when all are [s], with everybody at the door at once.

    The k-th person is through at ceil(k / c) s.
    """
    most = math.ceil(share * people - 1e-9)
    return math.ceil(most / readers) * service, math.ceil(people / readers) * service


def readers_at_the_door(people: int, service: float, limit_s: float, share: float = 0.95) -> int | None:
    """Return the fewest readers with which `share` are through within the limit; None where it is below one service."""
    turns = math.floor(limit_s / service)
    return math.ceil(math.ceil(share * people - 1e-9) / turns) if turns else None


def readers_in_line(
    arrivals: Sequence[Floats], service: float, limit_s: float, share: float = 0.95, *, most: int = 50
) -> int | None:
    """Return the fewest readers with which `share` of all people wait at most the limit, over several lines.

    None where even `most` readers do not do.
    """
    for readers in range(1, most + 1):
        waited = [_fixed(line, service, readers) for line in arrivals]
        if percentile(np.concatenate(waited) if waited else np.zeros(0), share) <= limit_s:
            return readers
    return None
