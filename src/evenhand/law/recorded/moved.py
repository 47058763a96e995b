"""Tell in steps which starts and ends of paid time a rule moved, and what that added or took."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from evenhand.law.codes import OFF
from evenhand.law.spans import Column, Spans

__all__ = ["moved_bounds"]


def moved_bounds(was_at: Column, after: Spans, says: str, **words: int) -> Iterator[dict[str, Any]]:
    """Yield one step per bound of paid time that a rule moved from `was_at` [instants], with its signed seconds.

    The sentence `says` may name `bound`, `was` (the recorded time), `now`, and any of `words`.
    """
    paid = after.gap != OFF
    paid_before = np.concatenate([[False], paid[:-1]])
    for act in np.flatnonzero((paid != paid_before) & (after.pay_at != was_at)):
        was, now = int(was_at[act]), int(after.pay_at[act])
        begins = bool(paid[act])
        yield {
            "act": int(act),
            "starts": min(was, now),
            "ends": max(was, now),
            "seconds": was - now if begins else now - was,
            "says": says,
            "words": {"bound": "start" if begins else "end", "was": int(after.at[act]), "now": now, **words},
        }
