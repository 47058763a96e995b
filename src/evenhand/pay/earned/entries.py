"""Entries: what a workweek earned, sum by sum, each as exact fractions over one number."""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame

__all__ = ["ENTRY", "entries"]

ENTRY = {
    "week": pl.UInt32,
    "place": pl.Int8,
    "order": pl.Int64,
    "kind": pl.String,
    "label": pl.String,
    "seconds": pl.Int64,
    "below": pl.Int128,
    "amount": pl.Int128,
    "in_rate": pl.Int128,
    "credit": pl.Int128,
    "rate": pl.Int128,
    "rate_below": pl.Int128,
    "spread": pl.Int64,
    "spread_below": pl.Int64,
    "is_flat": pl.Boolean,
    "item": pl.String,
}
"""The columns of entries.

week: its place in the table of weeks; place, order: where the entry stands among the week's; kind: as PayLaw cites it;
label: in words; seconds: the time it pays, null where it does not go by time. What is paid is `amount / below`;
`in_rate / below` counts in the regular rate, and `credit / below` may be set against overtime due. `rate / rate_below`
is the rate shown.
`spread` is set (above 0) where the sum is divided not by the hours worked but by the seconds it was agreed to cover,
`spread / spread_below`.
`is_flat`: a flat bonus divided by the hours that are not overtime. item: what the entry is owed for, where `kind` does
not say it.
"""

DEFAULTS = {
    "seconds": None,
    "rate": None,
    "rate_below": 1,
    "credit": 0,
    "spread": 0,
    "spread_below": 1,
    "is_flat": False,
    "item": None,
}


def entries(frame: Frame, by: str = "week", **columns: pl.Expr | str | int) -> Frame:
    """Return entries of these columns, those that are left out by their defaults.

    `by` is the column of `frame` that says whose they are, where it is not a week of the table.
    """
    given: dict[str, object] = {"week": pl.col(by), **DEFAULTS, **columns}
    return frame.select(
        (value if isinstance(value, pl.Expr) else pl.lit(value)).cast(dtype).alias(by if name == "week" else name)
        for name, dtype in ENTRY.items()
        for value in [given[name]]
    )
