"""Which shifts somebody worked of those they were scheduled for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from evenhand.law.codes import IN, OFF, OUT
from evenhand.law.site import Site
from evenhand.law.spans import Column, Spans

__all__ = ["Shift", "reported", "scheduled_way", "shifts_of"]

HOUR_S = 3600

NEAR_S = 2 * 3600
"""A person who punches within two hours of a scheduled shift has reported for it. Common practice, no source."""


@dataclass(frozen=True)
class Shift:
    """A scheduled shift with the punches that fall to it and the seconds of paid time between them."""

    person: int
    starts: int
    ends: int
    punches: tuple[int, ...]
    worked_s: int


def scheduled_way(spans: Spans, site: Site) -> Column:
    """Return for each punch which scheduled bound it lies near: a start, an end, or neither or both.

    Near is within an hour. Common practice, no source.
    """
    toward = np.zeros(len(spans.at), np.int8)
    planned = site.planned
    if planned is None:
        return toward
    persons = np.repeat(np.arange(len(planned.first) - 1), np.diff(planned.first))
    start_near = _is_near(spans, persons, planned.starts)
    end_near = _is_near(spans, persons, planned.ends)
    toward[start_near & ~end_near] = IN
    toward[end_near & ~start_near] = OUT
    return toward


def _is_near(spans: Spans, persons: Column, bounds: Column) -> Column:
    """Tell of each punch whether one of its person's bounds lies within an hour."""
    if not len(bounds):
        return np.zeros(len(spans.at), np.bool_)
    # One key for person and time: times of a person stay far from those of the next.
    width = np.int64(1) << 36
    keys = np.sort(persons * width + bounds)
    mine = spans.person.astype(np.int64) * width + spans.at
    place = np.searchsorted(keys, mine)
    after = np.abs(keys[np.minimum(place, len(keys) - 1)] - mine)
    before = np.abs(mine - keys[np.maximum(place - 1, 0)])
    near: Column = np.minimum(after, before) <= HOUR_S
    return near


def shifts_of(spans: Spans) -> Iterator[range]:
    """Yield the punches of each worked shift."""
    begins = np.flatnonzero(np.diff(spans.shift, prepend=-1) | np.diff(spans.person, prepend=-1))
    for low, high in zip(begins, np.append(begins[1:], len(spans.at)), strict=True):
        yield range(int(low), int(high))


def reported(spans: Spans, site: Site) -> Iterator[Shift]:
    """Yield each scheduled shift that somebody reported for; an punch falls to one shift at most."""
    planned = site.planned
    if planned is None:
        return
    taken = -1
    for person in np.unique(spans.person):
        low, high = np.searchsorted(spans.person, [person, person + 1])
        for k in range(int(planned.first[person]), int(planned.first[person + 1])):
            starts, ends = int(planned.starts[k]), int(planned.ends[k])
            since = low + np.searchsorted(spans.at[low:high], starts - NEAR_S)
            until = low + np.searchsorted(spans.at[low:high], ends + NEAR_S, side="right")
            if k + 1 < planned.first[person + 1]:
                until = min(until, low + np.searchsorted(spans.at[low:high], int(planned.starts[k + 1]) - NEAR_S))
            punches = tuple(range(max(int(since), taken + 1), int(until)))
            if not punches:
                continue
            taken = punches[-1]
            worked = sum(int(spans.at[a + 1] - spans.at[a]) for a in punches[:-1] if spans.gap[a] != OFF)
            yield Shift(int(person), starts, ends, punches, worked)
