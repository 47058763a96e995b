"""What is owed for hours of pay beside time worked (PREMIUMS), at the regular rate of pay."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.pay.binding import Binding
from evenhand.pay.due.minimum_wage import minimum_wages
from evenhand.pay.due.regular_rate import Due
from evenhand.pay.exact import UNITS, Exact, whole
from evenhand.pay.worktime import WEEK
from evenhand.terms.columns import Frame

__all__ = ["PremiumsDue", "premiums_due"]


@dataclass(frozen=True)
class PremiumsDue:
    """Premium hours: `rows` (PREMIUMS with their week), the amount and the rate of each."""

    rows: Frame
    amount: Exact
    rate: Exact


def premiums_due(
    owed: Frame, binding: Binding, rated: Frame, held: Frame, due: Due, differentials: Frame
) -> PremiumsDue:
    """Return what the premium hours `owed` pay (PREMIUMS with week and law).

    `rated` are the stretches, with their rate, of the weeks that have a split shift, and `differentials` the time of
    differentials (`differential_time`). The hour of a split shift is owed at the minimum wage, less what the workday's
    pay, raised to it, already exceeds it by: with its differentials, unless these are set against overtime. Work that
    is not paid by the hour counts there at the regular rate, which holds them. The regular rate holds flat bonuses too.
    Source: Aleman v. AirTouch, 209 Cal.App.4th 556 (2012), by which all that the day pays counts; second hand.
    """
    week = owed["week"].to_numpy().astype(np.intp)
    regular = due.regular_rate.take(week)
    hours = whole(owed["hours"].cast(pl.Decimal(18, 4)).to_physical())
    amount, rate = regular.times(hours, UNITS), regular
    splits = owed["kind"] == "split_shift"
    if splits.any():
        cents = minimum_wages(owed, "workday", binding.listed)
        least = Exact(whole(cents), np.full(owed.height, 100, np.object_))
        of_splits = owed.with_row_index("row").with_columns(least=cents * (UNITS // 100)).filter(splits)
        day = _of_workday(of_splits, binding, rated, held)
        day = pl.select(row=pl.int_range(owed.height, dtype=pl.UInt32)).join(
            day, on="row", how="left", maintain_order="left"
        )
        worked, paid_by_hour, other = (whole(day[name].fill_null(0)) for name in ("worked_s", "hourly", "other_s"))
        needed = least.times(worked, 3600) + least.times(hours, UNITS)
        hourly = Exact(paid_by_hour, np.full(owed.height, 3600 * UNITS, np.object_))
        paid = hourly + regular.times(other, 3600) + _added_on_workday(of_splits, binding, differentials, owed.height)
        is_split = splits.to_numpy()
        amount = (needed - paid).not_below_zero().where(is_split, amount)
        rate = least.where(is_split, rate)
    return PremiumsDue(owed, amount, rate)


def _of_workday(owed: Frame, binding: Binding, rated: Frame, held: Frame) -> Frame:
    """Return, by row, its workday's worked_s, hourly [units x s] and other_s, worked for no hourly rate.

    An hourly rate below `least` [units], the workday's minimum wage, is raised to it.
    """
    hourly = held.filter(pl.col("plan") == "hourly").select("rate", of_hour="amount")
    days = binding.with_workdays(owed.select("row", *WEEK, "workday", "least"))
    spent = pl.min_horizontal("ends", "closes") - pl.max_horizontal("starts", "opens")
    within = days.join(rated.select(*WEEK, "starts", "ends", "rate"), on=WEEK).with_columns(spent=spent)
    return (
        within.filter(pl.col("spent") > 0)
        .join(hourly, on="rate", how="left")
        .group_by("row")
        .agg(
            worked_s=pl.col("spent").sum(),
            hourly=(pl.max_horizontal("of_hour", "least").cast(pl.Int128) * pl.col("spent"))
            .filter(pl.col("of_hour").is_not_null())
            .sum(),
            other_s=pl.col("spent").filter(pl.col("of_hour").is_null()).sum(),
        )
    )


def _added_on_workday(owed: Frame, binding: Binding, differentials: Frame, rows: int) -> Exact:
    """Return what differentials add to the hours of each row's workday, of those that are paid by the hour."""
    counted = differentials.filter(pl.col("by_hour"), ~pl.col("credits"))
    days = binding.with_workdays(owed.select("row", *WEEK, "workday"))
    spent = pl.min_horizontal("stops", "closes") - pl.max_horizontal("begins", "opens")
    within = days.join(counted.drop("spent"), on=WEEK).with_columns(spent=spent).filter(pl.col("spent") > 0).sort("row")
    added = within.select((pl.col("base") * pl.col("per_unit") + pl.col("per_hour")) * pl.col("spent")).to_series()
    amount = Exact(whole(added), whole(within.select(3600 * pl.col("below")).to_series()))
    return amount.summed(within["row"].to_numpy().astype(np.intp), rows)
