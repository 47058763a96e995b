"""Refusals of several people close together: a smear, the sun, a knocked platen.

Source: scan over windows with a binomial tail, corrected for the number of windows (Bonferroni).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from evenhand.scores.readers.logs import Logs
from evenhand.scores.tables import READER_HEALTH
from evenhand.terms.columns import Frame

__all__ = ["refusal_bursts"]

WINDOW_S = 1800
FEWEST_PEOPLE = 3
UNLIKELY = 0.001


def refusal_bursts(logs: Logs) -> Frame:
    """Return the bursts (READER_HEALTH): half hours in which three or more hands were refused beyond chance."""
    return READER_HEALTH.rows(row for reader in range(len(logs.readers)) for row in _found(logs, reader))


def _found(logs: Logs, reader: int) -> Iterator[dict[str, Any]]:
    from scipy.special import bdtrc

    log = logs.log(reader)
    at, refused = logs.at[log], logs.is_refused[log]
    opens = np.flatnonzero(refused)
    if len(opens) in {0, len(at)}:
        return
    ends = np.searchsorted(at, at[opens] + WINDOW_S, side="right")
    errors, trials = np.searchsorted(opens, ends) - np.arange(len(opens)), ends - opens
    chance = bdtrc(errors - 1, trials, len(opens) / len(at)) * len(opens)
    free = -1
    for i in np.flatnonzero((errors >= FEWEST_PEOPLE) & (chance < UNLIKELY)).tolist():
        first, end = int(opens[i]), int(ends[i])
        numbers = logs.presented["number"][log][first:end].filter(refused[first:end])
        people = numbers.n_unique()
        if first < free or people < FEWEST_PEOPLE:
            continue
        free = end
        yield {
            "reader": logs.readers[reader],
            "kind": "refusal_burst",
            "since": int(at[first]),
            "size": float(errors[i]),
            "count": int(errors[i]),
            "trials": int(trials[i]),
            "people": people,
            "chance": float(chance[i]),
        }
