"""Tell which starts and ends of paid time a rule moved, and what that added or took."""

from __future__ import annotations

import numpy as np

from evenhand.law.codes import OFF
from evenhand.law.jurisdiction import changed
from evenhand.law.spans import Changes, Column, Spans

__all__ = ["moved_bounds"]


def moved_bounds(was_at: Column, after: Spans, says: tuple[str, str], **words: int) -> Changes:
    """Return one row per bound of paid time that a rule moved from `was_at` [instants].

    `says` are the sentences of a start and of an end; they may name `was` (the recorded time), `now`, and any of
    `words`.
    """
    paid = after.gap != OFF
    paid_before = np.zeros(len(paid), np.bool_)
    paid_before[1:] = paid[:-1]
    punch = np.flatnonzero((paid != paid_before) & (after.pay_at != was_at))
    was, now, ends = was_at[punch], after.pay_at[punch], paid_before[punch]
    # A start that moves back, or an end that moves on, pays more.
    sign = np.where((now > was) == ends, 1, -1)
    starts, stops = np.minimum(was, now), np.maximum(was, now)
    said = {"was": after.at[punch], "now": now, **words}
    return changed(after, punch, starts, stops, says, said, sign=sign, reason=ends.astype(np.int8))
