"""Lines of what payroll is told, as what is owed (OWED) for its rows."""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.payroll import OWED

__all__ = ["owed_of_lines"]


def owed_of_lines(lines: Frame, *, adjusts: bool) -> Frame:
    """Return lines (HANDED_OFF) as OWED; `adjusts` says whether they correct an earlier period."""
    of_row = lines.group_by("person", "workweek", "item", "rate").agg(
        pl.col("seconds").sum(),
        pl.col("amount").sum().cast(pl.Decimal(18, 4)),
        in_time=(pl.col("seconds") != 0).any(),
        in_money=(pl.col("amount") != 0).any(),
    )
    told = of_row.with_columns(
        seconds=pl.when("in_time").then("seconds"),
        amount=pl.when("in_money").then("amount"),
        is_known=pl.lit(value=True),
        adjusts=pl.lit(adjusts),
    )
    return OWED.frame(told.filter(pl.col("in_time") | pl.col("in_money")).sort("person", "workweek", "item", "rate").select(OWED.names).to_dict())
