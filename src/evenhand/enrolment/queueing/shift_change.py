"""The line at shift change, told from the punches: how long one person takes, how many come, how long they wait.

A log holds when each person was through, not when they joined the line. So waits have two ends: as short as if
each came just as a reader fell free, and as long as if everybody of an unbroken run stood there from its start.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.enrolment.queueing.line import percentile, waits
from evenhand.terms.columns import Column, Frame, Table

__all__ = ["BUSY", "RUSHES", "Service", "arrivals_of", "rushes", "service_times", "stagger"]

Floats = npt.NDArray[np.float64]
_INSTANT = "s since 1970-01-01T00:00:00Z"
BUSY = 1.5  # punches closer than this many service times are one run: somebody stood behind somebody

RUSHES = Table(
    "rushes",
    "Unbroken runs of people at a row of readers, with the least and the most they can have waited",
    (
        Column("readers", "text", "The readers of the row, by name", required=True),
        Column("starts", "instant", "When the first of them was through", required=True, unit=_INSTANT),
        Column("ends", "instant", "When the last of them was", required=True, unit=_INSTANT),
        Column("people", "count", "How many", required=True),
        Column("least_p95_s", "seconds", "95 % waited at least this much or less", required=True, unit="s"),
        Column("most_p95_s", "seconds", "95 % waited at most this", required=True, unit="s"),
        Column("least_lost_s", "seconds", "All their waits together, at least", required=True, unit="s"),
        Column("most_lost_s", "seconds", "All their waits together, at most", required=True, unit="s"),
    ),
    key=("readers", "starts"),
)


@dataclass(frozen=True)
class Service:
    """What one person takes at a reader [s]: the 5 % quantile and the median of `gaps` in busy minutes."""

    low_s: float
    typical_s: float
    gaps: int


def service_times(recorded: Frame, *, busy: int = 4) -> dict[str, Service]:
    """Return each reader's service time, from the gaps between punches in minutes with at least `busy` of them.

    A reader without such a minute is left out: nothing then says how long one person takes.
    """
    found = {}
    for (reader,), rows in recorded.sort("at").partition_by("reader", as_dict=True, maintain_order=True).items():
        at = rows["at"].to_numpy()
        minutes = at // 60
        often = np.isin(minutes, np.unique(minutes)[np.unique(minutes, return_counts=True)[1] >= busy])
        gaps = np.diff(at)[(often[1:] & often[:-1]) & (np.diff(at) > 0) & (np.diff(at) < 60)]
        if len(gaps):
            low, typical = np.quantile(gaps, [0.05, 0.5])
            found[str(reader)] = Service(float(low), float(typical), len(gaps))
    return dict(sorted(found.items()))


def rushes(recorded: Frame, readers: Sequence[str], service_s: float, *, least: int = 5) -> Frame:
    """Return the runs of at least `least` people (RUSHES) at a row of `readers` that people choose among freely.

    The least is no wait beyond what the readers' own pace forces; the most is everybody there from the start.
    """
    at = recorded.filter(pl.col("reader").is_in(list(readers)))["at"].sort().to_numpy().astype(np.float64)
    rows = []
    for run in _runs(at, BUSY * service_s):
        if len(run) < least:
            continue
        rows.append(_rush(run, readers, service_s))
    return RUSHES.rows(rows)


def arrivals_of(recorded: Frame, readers: Sequence[str], rush: dict[str, Any], service_s: float) -> Floats:
    """Return when the people of one rush came [s], taking each to have come just in time to be served."""
    inside = pl.col("at").is_between(rush["starts"], rush["ends"]) & pl.col("reader").is_in(list(readers))
    return recorded.filter(inside)["at"].sort().to_numpy().astype(np.float64) - service_s


def stagger(
    arrivals: Floats,
    service_s: float,
    readers: int,
    limit_s: float,
    *,
    groups: int,
    share: float = 0.95,
    step_s: int = 60,
) -> int | None:
    """Return the fewest seconds between `groups` of one rush so that `share` wait at most the limit.

    People are split in turn, first to the first group; each group comes later than the one before by a whole
    number of steps. None where even a gap as long as the rush with everybody at one reader does not do.
    """
    if not len(arrivals):
        return 0
    longest = int(arrivals[-1] - arrivals[0] + len(arrivals) * service_s) + step_s
    for gap in range(0, longest + step_s, step_s):
        moved = np.sort(arrivals + (np.arange(len(arrivals)) % groups) * gap)
        if percentile(waits(moved, service_s, readers), share) <= limit_s:
            return gap
    return None


def _runs(at: Floats, gap: float) -> list[Floats]:
    return np.split(at, np.flatnonzero(np.diff(at) > gap) + 1) if len(at) else []


def _rush(run: Floats, readers: Sequence[str], service_s: float) -> dict[str, Any]:
    least = waits(run - service_s, service_s, len(readers))
    most = np.maximum(run - run[0], least)
    return {
        "readers": " ".join(readers),
        "starts": int(run[0]),
        "ends": int(run[-1]),
        "people": len(run),
        "least_p95_s": round(percentile(least)),
        "most_p95_s": round(percentile(most)),
        "least_lost_s": round(float(least.sum())),
        "most_lost_s": round(float(most.sum())),
    }
