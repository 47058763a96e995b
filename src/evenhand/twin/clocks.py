"""Readers' clocks that are off, and the times they therefore report."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from evenhand.terms.columns import Frame
from evenhand.terms.zones import DAY_S, offsets_of
from evenhand.twin.readers import SITES, Reader
from evenhand.twin.truth import CLOCKS

__all__ = ["reported_at", "set_clocks"]

Ints = npt.NDArray[np.int64]


def set_clocks(rng: np.random.Generator, readers: list[Reader], starts: int, ends: int) -> Frame:
    """Return how each clock runs from one instant to another: all a few seconds off, one gaining, one set back late."""
    rows = []
    for reader, ahead in zip(readers, rng.integers(-15, 16, len(readers)).tolist(), strict=True):
        parts = [(starts, ends, ahead, 0)]
        change = _autumn_change(SITES[reader.site][1], starts, ends)
        if "runs_off" in reader.faults:
            parts = [(starts, ends, 40, 18)]
        if "set_back_late" in reader.faults and change is not None:
            back = min(change + 3 * DAY_S + 9 * 3600, ends)
            parts = [(starts, change, ahead, 0), (change, back, ahead + 3600, 0), (back, ends, ahead, 0)]
        rows += [{"reader": reader.name, "starts": a, "ends": b, "ahead_s": c, "gains_s": d} for a, b, c, d in parts]
    return CLOCKS.rows(rows)


def _autumn_change(zone: str, starts: int, ends: int) -> int | None:
    offsets = offsets_of(zone)
    inside = np.flatnonzero((offsets.starts > starts) & (offsets.starts < ends))
    back = [i for i in inside.tolist() if offsets.offsets[i] < offsets.offsets[i - 1]]
    return int(offsets.starts[back[0]]) if back else None


def reported_at(clocks: Frame, readers: list[Reader], reader: Ints, at: Ints) -> Ints:
    """Return what each reader's log says for true instants: by its clock, cut to what the log keeps of a time."""
    at_clock = at.copy()
    index = {each.name: i for i, each in enumerate(readers)}
    for name, starts, ends, ahead, gains in clocks.iter_rows():
        here = (reader == index[name]) & (at >= starts) & (at < ends)
        at_clock[here] = at[here] + ahead + gains * (at[here] - starts) // DAY_S
    resolution = np.array([each.resolution_s for each in readers])[reader]
    return np.asarray(at_clock // resolution * resolution)
