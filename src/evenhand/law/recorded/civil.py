"""Civil time of each punch in the zone of its own reader, and rounding in it."""

from __future__ import annotations

from typing import Any

import numpy as np

from evenhand.law.codes import OFF
from evenhand.law.compiling import run_pass
from evenhand.law.site import Site
from evenhand.law.spans import Column, Spans

__all__ = ["civil_seconds", "round_bounds"]


def place_in_civil_time(at: Any, zone: Any, first: Any, starts: Any, offsets: Any, local: Any) -> None:
    """Fill `local` with wall-clock seconds; the place in each zone's table moves along with the punches."""
    places = [0] * (len(first) - 1)
    for z in range(len(places)):
        places[z] = first[z]
    for i in range(len(at)):
        z = zone[i]
        k = places[z]
        while k > first[z] and at[i] < starts[k]:
            k -= 1
        while k + 1 < first[z + 1] and at[i] >= starts[k + 1]:
            k += 1
        places[z] = k
        local[i] = at[i] + offsets[k]


def civil_seconds(spans: Spans, site: Site) -> Column:
    """Return each punch's civil time [s since 1970-01-01T00:00 on the wall], in the zone of its reader."""
    if len(spans.local):
        return spans.local
    local = np.empty(len(spans.at), np.int64)
    inputs = (spans.at, spans.zone, site.zone_first, site.offset_starts, site.offsets)
    run_pass(place_in_civil_time, inputs, (local,), large=site.large)
    return local


def round_bounds(person: Any, at: Any, local: Any, gap: Any, unit_s: int, pay_at: Any) -> None:
    """Move where each run of paid time begins and ends to the nearest `unit_s` of civil time, half up.

    Punches inside a run, around a paid rest, do not move pay: they stay, or stop at the run's own bounds.
    """
    half = unit_s // 2
    floor, owner = 0, -1
    i, n = 0, len(at)
    while i < n:
        j = i
        while gap[j] != OFF:
            j += 1
        if j > i:
            begins = at[i] - local[i] + (local[i] + half) // unit_s * unit_s
            # Readers in zones of different minutes could otherwise pay one moment twice.
            if person[i] == owner and begins < floor:
                begins = floor
            ends = max(begins, at[j] - local[j] + (local[j] + half) // unit_s * unit_s)
            for k in range(i, j + 1):
                pay_at[k] = min(max(at[k], begins), ends)
            pay_at[i] = begins
            pay_at[j] = ends
            floor, owner = ends, person[i]
        i = j + 1
