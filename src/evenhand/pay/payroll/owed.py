"""What is owed for the workweeks of a period, item by item (OWED): worked time, premiums, differentials, earnings."""

from __future__ import annotations

import polars as pl

from evenhand.pay.worktime import WEEK
from evenhand.terms.columns import Frame
from evenhand.terms.payroll import DIFFERENTIAL, OWED, PREMIUM_ITEMS, WORKED_ITEMS

__all__ = ["owed_items", "owed_premiums"]

RECORDED = "recorded"
"""Time between paired punches: nothing owed, but a column may show it."""


def owed_items(weeks: Frame, premiums: Frame, differentials: Frame, pay_weeks: Frame, pay_items: Frame) -> Frame:
    """Return OWED of these workweeks: their time, and the money of it where pay is worked out.

    `weeks` are WEEKS, `premiums` PREMIUMS, `differentials` DIFFERENTIALS, all of the same workweeks; `pay_weeks` and
    `pay_items` are PAY_WEEKS and PAY_ITEMS, empty where nothing is paid in money. Time worked stands under its class,
    its money under `base`, `by_day` and `overtime_premium`.
    """
    seconds = {RECORDED: "recorded_s", **{item: f"{item}_s" for item in WORKED_ITEMS}}
    worked = [weeks.select(*WEEK, item=pl.lit(item), seconds=column) for item, column in seconds.items()]
    item = pl.col("kind").replace_strict(PREMIUM_ITEMS, return_dtype=pl.String)
    hours = pl.col("hours").cast(pl.Decimal(18, 4)).to_physical().cast(pl.Int64)
    owed = owed_premiums(premiums, pay_weeks, pay_items).select(
        *WEEK, item=item, seconds=(hours * 3600 + 5_000) // 10_000
    )
    windows = differentials.select(*WEEK, item=DIFFERENTIAL + pl.col("kind"), seconds=pl.col("ends") - pl.col("starts"))
    time = pl.concat([*worked, owed, windows]).filter((pl.col("seconds") != 0) | (pl.col("item") == RECORDED))
    time = time.group_by(*WEEK, "item", maintain_order=True).agg(pl.col("seconds").sum())
    money = pay_items.filter(pl.col("amount").is_null() | (pl.col("amount") != 0))
    every = time.join(money, on=[*WEEK, "item"], how="full", coalesce=True)
    known = pay_weeks.select(*WEEK, is_known=pl.col("total_pay").is_not_null())
    every = every.join(known, on=WEEK, how="left").with_columns(pl.col("is_known").fill_null(value=False))
    return OWED.frame(
        every.sort(*WEEK, "item", "rate").with_columns(adjusts=pl.lit(value=False)).select(OWED.names).to_dict()
    )


def owed_premiums(premiums: Frame, pay_weeks: Frame, pay_items: Frame) -> Frame:
    """Return PREMIUMS without the hours of split shifts that are known to owe nothing.

    A split shift whose day is paid enough beyond the minimum wage owes nothing, though an hour is counted for it.
    `pay_weeks` and `pay_items` are PAY_WEEKS and PAY_ITEMS of the same workweeks; where pay is not known, hours stand.
    """
    known = pay_weeks.filter(pl.col("total_pay").is_not_null()).select(WEEK)
    paid = pay_items.filter(pl.col("item") == PREMIUM_ITEMS["split_shift"], pl.col("amount") != 0).select(WEEK)
    nothing = known.join(paid, on=WEEK, how="anti").with_columns(kind=pl.lit("split_shift"))
    return premiums.join(nothing, on=[*WEEK, "kind"], how="anti", maintain_order="left")
