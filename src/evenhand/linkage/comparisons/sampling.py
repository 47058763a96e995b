"""Some of each stray's punches or stretches, evenly chosen, set beside each of its candidates."""

from __future__ import annotations

import numpy as np

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.roster import ranges
from evenhand.linkage.strays import Ints

__all__ = ["expanded", "sampled_places"]


def sampled_places(first: Ints, until: Ints, most: int) -> tuple[Ints, Ints]:
    """Return (stray, place) of at most `most` places of each stray's part, evenly chosen."""
    counts = until - first
    taken = np.minimum(counts, most)
    stray = np.repeat(np.arange(len(first)), taken)
    rank = np.arange(len(stray)) - np.repeat(np.cumsum(taken) - taken, taken)
    return stray, first[stray] + rank * counts[stray] // np.maximum(taken[stray], 1)


def expanded(pairs: Pairs, sampled: tuple[Ints, Ints]) -> tuple[Ints, Ints]:
    """Return (pair, place) of every pair with every sampled place of its stray."""
    stray, place = sampled
    strays = len(pairs.first)
    begins = np.searchsorted(stray, np.arange(strays))
    counts = np.searchsorted(stray, np.arange(strays), side="right") - begins
    of_pair = counts[pairs.stray]
    return np.repeat(np.arange(len(pairs.stray)), of_pair), place[ranges(begins[pairs.stray], of_pair)]
