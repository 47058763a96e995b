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


def premiums_due(owed: Frame, binding: Binding, rated: Frame, held: Frame, due: Due) -> PremiumsDue:
    """Return what the premium hours `owed` pay (PREMIUMS with week and law).

    `rated` are the stretches, with their rate, of the weeks that have a split shift. Its hour is owed at the minimum
    wage, less what the workday's pay, raised to it, already exceeds it by; work that is not paid by the hour counts
    there at the regular rate. The regular rate holds flat bonuses too.
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
        paid = hourly + regular.times(other, 3600)
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
