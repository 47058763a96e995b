"""The last four weeks up to now: the one window in which refusals are counted beside what they are counted of."""

from __future__ import annotations

import polars as pl

from evenhand.terms.zones import DAY_S

__all__ = ["LATELY_DAYS", "is_lately"]

LATELY_DAYS = 28


def is_lately(as_of: int) -> pl.Expr:
    """Return whether `at` lies in the window that ends at an instant [s since 1970-01-01T00:00:00Z]."""
    return pl.col("at").is_between(as_of - LATELY_DAYS * DAY_S, as_of, closed="right")
