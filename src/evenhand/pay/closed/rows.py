"""Lines of what payroll is told, as what is owed (OWED) for its rows."""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.payroll import ON_EARNINGS, OWED, REOPENED

__all__ = ["less_told", "owed_of_lines"]

KEY = ["person", "workweek", "item", "rate"]


def owed_of_lines(lines: Frame, *, adjusts: bool) -> Frame:
    """Return lines (HANDED_OFF) as OWED; `adjusts` says whether they correct an earlier period.

    What rests on earnings is in no row of a file's own period: payroll works it out from hours and earnings there. In
    a row that corrects an earlier week, whose hours stand in another file, it is what a later payment adds.
    """
    on_earnings = pl.col("item").str.starts_with(ON_EARNINGS)
    if adjusts:
        lines = lines.with_columns(item=pl.when(on_earnings).then(pl.lit(REOPENED)).otherwise("item"))
    else:
        lines = lines.filter(~on_earnings)
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
    some = told.filter(pl.col("in_time") | pl.col("in_money")).sort(KEY)
    return OWED.frame(some.select(OWED.names).to_dict())


def less_told(owed: Frame, told: Frame) -> Frame:
    """Return what is owed less what other files have told of it (both OWED); money not known stays so."""
    if told.is_empty():
        return owed
    both = owed.join(
        told.select(*KEY, less_s="seconds", less="amount"), on=KEY, how="full", coalesce=True, nulls_equal=True
    )
    is_unknown = pl.col("seconds").is_null() & pl.col("amount").is_null() & pl.col("is_known").is_not_null()
    zero = pl.lit(0, dtype=pl.Decimal(18, 4))
    in_time = pl.col("seconds").is_not_null() | pl.col("less_s").is_not_null()
    in_money = pl.col("amount").is_not_null() | pl.col("less").is_not_null()
    left = both.with_columns(
        seconds=pl.when(in_time).then(pl.col("seconds").fill_null(0) - pl.col("less_s").fill_null(0)),
        amount=pl.when(in_money & ~is_unknown)
        .then(pl.col("amount").fill_null(zero) - pl.col("less").fill_null(zero))
        .cast(pl.Decimal(18, 4)),
        is_known=pl.col("is_known").fill_null(value=True),
        adjusts=pl.lit(value=False),
    )
    some = (pl.col("seconds").fill_null(0) != 0) | (pl.col("amount").fill_null(zero) != zero) | is_unknown
    return OWED.frame(left.filter(some).sort(KEY).select(OWED.names).to_dict())
