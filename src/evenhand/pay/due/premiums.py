"""What is owed for hours of pay beside time worked (PREMIUMS), at the regular rate of pay."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.pay.due.minimum_wage import minimum_wages
from evenhand.pay.due.regular_rate import Due
from evenhand.pay.exact import UNITS, Exact, whole
from evenhand.pay.worktime import WEEK
from evenhand.terms.columns import Frame
from evenhand.terms.pay_law import PayLaw

__all__ = ["PremiumsDue", "premiums_due"]


@dataclass(frozen=True)
class PremiumsDue:
    """Premium hours: `rows` (PREMIUMS with their week), the amount and the rate of each."""

    rows: Frame
    amount: Exact
    rate: Exact


def premiums_due(owed: Frame, laws: Sequence[PayLaw], parts: Frame, held: Frame, due: Due) -> PremiumsDue:
    """Return what the premium hours `owed` pay (PREMIUMS with week and law).

    A split shift's hour is owed at the minimum wage, less what the day's pay already exceeds it by; work that is not
    paid by the hour counts there at the regular rate. The regular rate holds flat bonuses too.
    """
    week = owed["week"].to_numpy().astype(np.intp)
    regular = due.regular_rate.take(week)
    hours = whole(owed["hours"].cast(pl.Decimal(18, 4)).to_physical())
    amount, rate = regular.times(hours, UNITS), regular
    splits = (owed["kind"] == "split_shift").to_numpy()
    if splits.any():
        least = Exact(whole(minimum_wages(owed, "workday", laws)), np.full(owed.height, 100, np.object_))
        day = _of_day(owed, parts, held)
        needed = least.times(whole(day["worked_s"]), 3600) + least.times(hours, UNITS)
        hourly = Exact(whole(day["hourly"]), np.full(owed.height, 3600 * UNITS, np.object_))
        paid = hourly + regular.times(whole(day["other_s"]), 3600)
        amount = (needed - paid).not_below_zero().where(splits, amount)
        rate = least.where(splits, rate)
    return PremiumsDue(owed, amount, rate)


def _of_day(owed: Frame, parts: Frame, held: Frame) -> Frame:
    """Return, for each row, its workday's worked_s, hourly [units x s] and other_s, worked for no hourly rate."""
    hourly = held.filter(pl.col("plan") == "hourly").select("rate", of_hour="amount")
    rated = parts.join(hourly, on="rate", how="left")
    days = rated.group_by(*WEEK, workday="day").agg(
        pl.col("worked_s").sum(),
        hourly=(pl.col("of_hour").cast(pl.Int128) * pl.col("worked_s")).sum(),
        other_s=pl.col("worked_s").filter(pl.col("of_hour").is_null()).sum(),
    )
    found = owed.select(*WEEK, "workday").join(days, on=[*WEEK, "workday"], how="left", maintain_order="left")
    return found.with_columns(pl.col("worked_s", "hourly", "other_s").fill_null(0))
