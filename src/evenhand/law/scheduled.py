"""Which shifts somebody worked of those they were scheduled for."""

from __future__ import annotations

from typing import Any

import numpy as np

from evenhand.law.codes import IN, NOTHING, OFF, OUT
from evenhand.law.compiling import run_pass
from evenhand.law.site import PlannedShifts, Site
from evenhand.law.spans import Column, Spans

__all__ = ["reported", "scheduled_way"]

HOUR_S = 3600

NEAR_S = 2 * 3600
"""A person who punches within two hours of a scheduled shift has reported for it. Common practice, no source."""


def scheduled_way(spans: Spans, site: Site) -> Column:
    """Return for each punch which scheduled bound it lies near: a start, an end, or neither or both.

    Near is within an hour. Common practice, no source.
    """
    toward = np.zeros(len(spans.at), np.int8)
    planned = site.planned
    if planned is None:
        return toward
    start_near = _is_near(spans, planned, planned.starts)
    end_near = _is_near(spans, planned, planned.ends)
    toward[start_near & ~end_near] = IN
    toward[end_near & ~start_near] = OUT
    return toward


def _is_near(spans: Spans, planned: PlannedShifts, bounds: Column) -> Column:
    """Tell of each punch whether one of its person's bounds lies within an hour."""
    first, last = int(spans.person[0]), int(spans.person[-1]) + 1
    mine = slice(int(planned.first[first]), int(planned.first[last]))
    persons = np.repeat(np.arange(first, last), np.diff(planned.first[first : last + 1]))
    if not len(persons):
        return np.zeros(len(spans.at), np.bool_)
    # One key for person and time: times of a person stay far from those of the next.
    width = np.int64(1) << 36
    keys = np.sort(persons * width + bounds[mine])
    wanted = spans.person.astype(np.int64) * width + spans.at
    place = np.searchsorted(keys, wanted)
    after = np.abs(keys[np.minimum(place, len(keys) - 1)] - wanted)
    before = np.abs(wanted - keys[np.maximum(place - 1, 0)])
    near: Column = np.minimum(after, before) <= HOUR_S
    return near


def list_reported(
    person: Any,
    at: Any,
    gap: Any,
    asks: Any,
    first: Any,
    starts: Any,
    ends: Any,
    punch: Any,
    plan: Any,
    worked_s: Any,
    is_open: Any,
) -> int:
    """Fill the scheduled shifts that somebody reported for, with the first punch that falls to each.

    A punch falls to one shift at most. `worked_s` are the paid seconds between them, `is_open` whether one of them
    leaves something open.
    """
    found = 0
    i, n = 0, len(at)
    while i < n:
        who, low = person[i], i
        while i < n and person[i] == who:
            i += 1
        since, taken = low, low - 1
        for k in range(first[who], first[who + 1]):
            while since < i and at[since] < starts[k] - NEAR_S:
                since += 1
            until = since
            while until < i and at[until] <= ends[k] + NEAR_S:
                if k + 1 < first[who + 1] and at[until] >= starts[k + 1] - NEAR_S:
                    break
                until += 1
            begins = max(since, taken + 1)
            if begins >= until:
                continue
            taken = until - 1
            worked, open_here = 0, 0
            for m in range(begins, until):
                if asks[m] != NOTHING:
                    open_here = 1
                if m + 1 < until and gap[m] != OFF:
                    worked += at[m + 1] - at[m]
            punch[found], plan[found], worked_s[found], is_open[found] = begins, k, worked, open_here
            found += 1
    return found


def reported(spans: Spans, planned: PlannedShifts, *, large: bool) -> tuple[Column, Column, Column]:
    """Return the scheduled shifts that were reported for and leave nothing open: first punch, shift, worked [s]."""
    # A punch falls to one shift at most, so there are no more of these than punches.
    filled = tuple(np.empty(len(spans.at), dtype) for dtype in (np.int64, np.int64, np.int64, np.int8))
    inputs = (spans.person, spans.at, spans.gap, spans.asks, planned.first, planned.starts, planned.ends)
    count = run_pass(list_reported, inputs, filled, large=large)
    punch, plan, worked, is_open = (column[:count] for column in filled)
    clear = is_open == 0
    return punch[clear], plan[clear], worked[clear]
