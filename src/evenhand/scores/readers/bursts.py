"""Refusals of several people close together: a smear, the sun, a knocked platen.

Source: scan over windows with a binomial tail, corrected for the number of windows (Bonferroni).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from evenhand.scores.tables import READER_HEALTH
from evenhand.terms.columns import Frame

__all__ = ["refusal_bursts"]

WINDOW_S = 1800
FEWEST_PEOPLE = 3
UNLIKELY = 0.001


def refusal_bursts(presented: Frame) -> Frame:
    """Return the bursts (READER_HEALTH): half hours in which three or more people were refused beyond chance."""
    return READER_HEALTH.rows(_found(presented))


def _found(presented: Frame) -> Iterator[dict[str, Any]]:
    from scipy.special import bdtrc

    for (reader,), rows in presented.sort("at").group_by("reader", maintain_order=True):
        refused = rows["is_refused"].to_numpy()
        rate = float(refused.mean())
        if rate in {0.0, 1.0}:
            continue
        at, person = rows["at"].to_numpy(), rows["person"].to_numpy()
        opens = np.flatnonzero(refused)
        ends = np.searchsorted(at, at[opens] + WINDOW_S, side="right")
        total = np.concatenate([[0], np.cumsum(refused)])
        errors, trials = total[ends] - total[opens], ends - opens
        chance = bdtrc(errors - 1, trials, rate) * max(len(opens), 1)
        free = -1
        for i in np.flatnonzero((errors >= FEWEST_PEOPLE) & (chance < UNLIKELY)).tolist():
            first, end = int(opens[i]), int(ends[i])
            people = len(set(person[first:end][refused[first:end]].tolist()))
            if first < free or people < FEWEST_PEOPLE:
                continue
            free = end
            yield {
                "reader": reader,
                "kind": "refusal_burst",
                "since": int(at[first]),
                "size": float(errors[i]),
                "says": f"{reader} refused {people} people, {errors[i]} of {trials[i]} presentations, within half an "
                "hour.",
                "proposal": "Wipe the platen, and see what was on it or shone on it then.",
            }
