"""Which scheduled bounds somebody's punches lie near."""

from __future__ import annotations

import numpy as np

from evenhand.law.codes import IN, OUT
from evenhand.law.site import PlannedShifts, Site
from evenhand.law.spans import Column, Spans

__all__ = ["NEAR_S", "scheduled_way"]

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
