"""The last four weeks up to now: the one window in which refusals are counted beside what they are counted of."""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.zones import DAY_S

__all__ = ["DAYS", "counted_lately", "is_lately"]

DAYS = 28


def is_lately(as_of: int) -> pl.Expr:
    """Return whether `at` lies in the window that ends at an instant [s since 1970-01-01T00:00:00Z]."""
    return pl.col("at").is_between(as_of - DAYS * DAY_S, as_of, closed="right")


def counted_lately(presented: Frame, by: str, as_of: int) -> dict[str, tuple[int, int]]:
    """Return of how many presentations (PRESENTED) in the window how many were refused, as (refused, all), by name."""
    counts = presented.filter(is_lately(as_of)).group_by(by).agg(pl.col("is_refused").sum(), pl.len())
    return {str(name): (refused, count) for name, refused, count in counts.iter_rows()}
