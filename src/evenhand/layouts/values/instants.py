"""From civil time to instants: the zone's rules, and the order of the log where an hour occurs twice.

A log is written in order. Within the hour that is repeated when clocks are set back, its rows are the first
occurrence until the wall clock steps back, and the second from there on. Where nothing steps back, rows before and
after whose instants are known may still tell; else the first occurrence is kept and the row is reported as doubtful.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.layouts.values.civil import Civil, Seconds
from evenhand.layouts.values.coded import Coded, Codes
from evenhand.layouts.values.dates import NO_OFFSET
from evenhand.terms.zones import DAY_S, Offsets, offsets_of

__all__ = ["Placed", "place"]

Mask = npt.NDArray[np.bool_]
Rows = npt.NDArray[np.int64]

OUT_OF_ORDER = 0.05  # of a log's steps against its direction, from which on it is no log in order of time


@dataclass(frozen=True)
class Placed:
    """Instants [s]; rows whose civil time is `skipped` in their zone; `doubtful` rows kept as the first occurrence."""

    instants: Seconds
    skipped: Mask
    doubtful: Mask


@dataclass(frozen=True)
class _Repeated:
    """The civil times of one zone that occur twice: their rows, both instants, and the change they belong to."""

    rows: Rows
    earlier: Seconds
    later: Seconds
    change: Rows


def place(civil: Civil, clock: Coded, zones: Sequence[str | None], *, in_log_order: Callable[[], bool]) -> Placed:
    """Return the instants of `civil` times on each row's clock; `zones` is the zone of each of `clock.values`.

    Rows that are faulty, or whose clock has no zone, come back as they are and are not looked at.
    `in_log_order` says whether the rows of one clock stand in the order in which they happened, or nearly so; it is
    asked only where a time occurs twice.
    """
    states_offset = civil.offset != NO_OFFSET
    instants = civil.local.copy()
    instants[states_offset] -= civil.offset[states_offset]
    skipped, doubtful = np.zeros(len(instants), np.bool_), np.zeros(len(instants), np.bool_)
    names = sorted({zone for zone in zones if zone})
    zone_of_value = np.array([names.index(zone) if zone else -1 for zone in zones], dtype=np.int32)
    zone_of_row = zone_of_value[clock.codes]
    placeable = (civil.faults == 0) & ~states_offset
    for position, zone in enumerate(names):
        rows = np.flatnonzero(placeable & (zone_of_row == position))
        if not len(rows):
            continue
        local = civil.local[rows]
        years = (local.min() // DAY_S // 366 + 1970, local.max() // DAY_S // 365 + 1970)
        offsets = offsets_of(zone, int(years[0]) - 2, int(years[1]) + 2)
        earlier, exists, twice, later = _both(offsets, local)
        instants[rows] = earlier
        skipped[rows] = ~exists
        if len(twice):
            change = np.searchsorted(offsets.starts, later, side="right")
            repeated = _Repeated(rows[twice], earlier[twice], later, change)
            _settle(instants, doubtful, civil, clock.codes, repeated, in_log_order=in_log_order())
    return Placed(instants, skipped, doubtful)


def _both(offsets: Offsets, local: Seconds) -> tuple[Seconds, Mask, Rows, Seconds]:
    """Return the earlier instants, which exist, the places of those that occur twice, and their later instants.

    Most days lie far from any change; only those near one are looked at time by time.
    """
    day = local // DAY_S
    first = int(day.min())
    noon = np.arange(first, int(day.max()) + 1, dtype=np.int64) * DAY_S + DAY_S // 2
    near = np.searchsorted(offsets.starts, noon - 2 * DAY_S) != np.searchsorted(offsets.starts, noon + 2 * DAY_S)
    earlier = local - offsets.at(noon)[day - first]
    exists = np.ones(len(local), np.bool_)
    close = np.flatnonzero(near[day - first])
    early, late, there = offsets.from_local(local[close])
    earlier[close], exists[close] = early, there
    twice = there & (early != late)
    return earlier, exists, close[twice], late[twice]


def _settle(
    instants: Seconds, doubtful: Mask, civil: Civil, clocks: Codes, repeated: _Repeated, *, in_log_order: bool
) -> None:
    """Choose the occurrence of each repeated time; changes `instants` and `doubtful` in place."""
    doubtful[repeated.rows] = True
    if not in_log_order:
        return
    position = np.full(len(instants), -1, np.int64)
    position[repeated.rows] = np.arange(len(repeated.rows))
    for code in np.unique(clocks[repeated.rows]):
        log = np.flatnonzero((clocks == code) & (civil.faults == 0))
        at = position[log]
        change = np.where(at >= 0, repeated.change[at], -1)
        direction = _direction(civil.local[log], change)
        if direction == 0:
            continue
        log, at, change = log[::direction], at[::direction], change[::direction]
        for one in np.unique(change[change >= 0]):
            inside = np.flatnonzero(change == one)
            second, known = _occurrences(civil.local[log[inside]], instants[log], inside, repeated, at[inside], change)
            rows = log[inside]
            instants[rows] = np.where(second, repeated.later[at[inside]], repeated.earlier[at[inside]])
            doubtful[rows] = ~known


def _direction(local: Seconds, change: Rows) -> int:
    """Return 1 for a log with its oldest row first, -1 for newest first, 0 where it is in no order that tells.

    Steps between two times of one repeated hour say nothing about the direction, unless they are all there is.
    """
    steps = np.diff(local)
    inside = (change[1:] >= 0) & (change[1:] == change[:-1])
    rest = steps[~inside]
    forward, backward = int((rest > 0).sum()), int((rest < 0).sum())
    if forward + backward:
        if min(forward, backward) > OUT_OF_ORDER * (forward + backward):
            return 0
        return 1 if forward > backward else -1
    fits = (int((steps < 0).sum()) <= 1, int((steps > 0).sum()) <= 1)
    return 0 if fits[0] == fits[1] else (1 if fits[0] else -1)


def _occurrences(
    local: Seconds, instants: Seconds, inside: Rows, repeated: _Repeated, at: Rows, change: Rows
) -> tuple[Mask, Mask]:
    """Return which rows of one repeated hour, in order of time, are its second occurrence, and which are certain."""
    back = np.flatnonzero(np.diff(local) < 0)
    if len(back) == 1:
        return np.arange(len(local)) > back[0], np.ones(len(local), np.bool_)
    if len(back) > 1:
        return np.zeros(len(local), np.bool_), np.zeros(len(local), np.bool_)
    known = np.flatnonzero(change != change[inside[0]])
    before = known[np.maximum(np.searchsorted(known, inside) - 1, 0)] if len(known) else inside
    after = known[np.minimum(np.searchsorted(known, inside), len(known) - 1)] if len(known) else inside
    second = (before < inside) & (instants[before] > repeated.earlier[at])
    first = (after > inside) & (instants[after] < repeated.later[at]) & ~second
    second = np.maximum.accumulate(second)
    return second, second | first
