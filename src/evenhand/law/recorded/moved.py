"""Tell which starts and ends of paid time a rule moved, and what that added or took."""

from __future__ import annotations

from typing import Any

import numpy as np

from evenhand.law.codes import OFF
from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import changed
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Spans

__all__ = ["moved_bounds"]


def list_moved(gap: Any, was_at: Any, pay_at: Any, punch: Any, starts: Any, stops: Any, sign: Any, is_end: Any) -> int:
    """Fill the bounds of paid time that moved, with the span between was and now; return their number."""
    moved = 0
    for i in range(len(gap)):
        begins = gap[i] != OFF
        if begins == (i > 0 and gap[i - 1] != OFF) or was_at[i] == pay_at[i]:
            continue
        punch[moved] = i
        starts[moved], stops[moved] = min(was_at[i], pay_at[i]), max(was_at[i], pay_at[i])
        # A start that moves back, or an end that moves on, pays more.
        sign[moved] = 1 if begins == (pay_at[i] < was_at[i]) else -1
        is_end[moved] = 0 if begins else 1
        moved += 1
    return moved


def moved_bounds(was_at: Column, after: Spans, site: Site, says: tuple[str, str], **words: int) -> Changes:
    """Return one row per bound of paid time that a rule moved from `was_at` [instants].

    `says` are the sentences of a start and of an end; they may name `was` (the recorded time), `now`, and any of
    `words`.
    """
    filled = tuple(np.empty(len(after.at), dtype) for dtype in (np.int32, np.int64, np.int64, np.int8, np.int8))
    moved = run_pass(list_moved, (after.gap, was_at, after.pay_at), filled, large=site.large)
    punch, starts, stops, sign, is_end = (column[:moved] for column in filled)
    said = {"was": after.at[punch], "now": after.pay_at[punch], **words}
    return changed(punch, starts, stops, says, said, sign=sign, reason=is_end)
