"""The shifts that punches make up, as pairing and the workplace's `shift_gap_s` part them."""

from __future__ import annotations

import numpy as np

from evenhand.law.codes import NOTHING
from evenhand.law.spans import Column, Spans

__all__ = ["begun_shifts", "paid_within", "shift_begins"]


def begun_shifts(spans: Spans) -> Column:
    """Return the first punch of each shift, in order."""
    return np.flatnonzero(np.diff(spans.shift, prepend=-1) | np.diff(spans.person, prepend=-1))


def shift_begins(spans: Spans) -> Column:
    """Return, for each punch, the first punch of its shift."""
    begins = begun_shifts(spans)
    return np.repeat(begins, np.diff(begins, append=len(spans.at)))


def paid_within(spans: Spans, begins: Column) -> tuple[Column, Column]:
    """Return the paid seconds of each stretch of punches that starts at one of `begins`, and whether it is open."""
    apart = np.append(np.diff(spans.at), 0) * (spans.gap > 0)
    # What follows the last punch of a stretch lies between it and the next one.
    apart[begins[1:] - 1] = 0
    return np.add.reduceat(apart, begins), np.add.reduceat((spans.asks != NOTHING).astype(np.int64), begins) > 0
