"""How many presentations were refused of late, of how many."""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.lately import is_lately

__all__ = ["counted_lately"]


def counted_lately(presented: Frame, by: str, as_of: int) -> dict[str, tuple[int, int]]:
    """Return of how many presentations (PRESENTED) of late how many were refused, as (refused, all), by name."""
    counts = presented.filter(is_lately(as_of)).group_by(by).agg(pl.col("is_refused").sum(), pl.len())
    return {str(name): (refused, count) for name, refused, count in counts.iter_rows()}
