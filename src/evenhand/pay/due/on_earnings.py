"""The part of overtime and of premium hours that rests on what was earned beside the hours.

Payroll works it out where one file tells it the hours and a bonus together. Where a bonus comes after the hours, what
it adds to their overtime (29 CFR 778.209(c)) and to hours paid at the regular rate is what this has grown by.
"""

from __future__ import annotations

import numpy as np
import polars as pl

from evenhand.pay.due.regular_rate import Due, flat_bonuses, weeks_due
from evenhand.pay.due.reopened import AT_MINIMUM
from evenhand.pay.earned.payments import BESIDE_HOURS
from evenhand.pay.exact import UNITS, Exact, whole
from evenhand.terms.columns import Frame
from evenhand.terms.payroll import ON_EARNINGS, OVERTIME_PREMIUM, PREMIUM_ITEMS

__all__ = ["due_on_earnings"]


def due_on_earnings(weeks: Frame, known: Frame, earned: Frame, due: Due, owed: Frame) -> Frame:
    """Return what the overtime and the premium hours (`owed`, PREMIUMS with their week) of each week rest on so.

    `known` are the weeks whose pay is known. Columns: week, item (`on_earnings:` and the item it is part of), cents:
    rounded once; null where it is not known. It needs no rate, save where a premium already paid is set against it.
    """
    is_beside = earned["place"].is_in(BESIDE_HOURS)
    beside = earned.filter(is_beside).select("week").unique()
    rows = beside["week"].sort().to_numpy().astype(np.intp)
    without = weeks_due(weeks, earned.filter(~is_beside))
    left = [one.of_week(one.premium - one.credit.smaller(one.premium)) for one in (due, without)]
    overtime = left[0] - left[1] + _on_flat_bonuses(weeks, earned, due)
    of_weeks = weeks[rows].select("week", item=pl.lit(OVERTIME_PREMIUM), cents=_cents(overtime.take(rows)))
    of_rate = owed.filter(pl.col("kind") != AT_MINIMUM).join(beside, on="week", how="semi", maintain_order="left")
    week = of_rate["week"].to_numpy().astype(np.intp)
    more = (due.regular_rate - without.regular_rate).take(week)
    hours = more.times(whole(of_rate["hours"].cast(pl.Decimal(18, 4)).to_physical()), UNITS)
    item = pl.col("kind").replace_strict(PREMIUM_ITEMS, return_dtype=pl.String)
    of_hours = of_rate.select("week", item=item, cents=_cents(hours)).group_by("week", "item", maintain_order=True)
    every = pl.concat([of_weeks, of_hours.agg(pl.col("cents").sum())])
    credited = weeks.filter(pl.Series((due.credit.top != 0).astype(bool)))["week"]
    sure = pl.col("week").is_in(known["week"].implode()) | ~pl.col("week").is_in(credited.implode())
    return every.select("week", item=ON_EARNINGS + pl.col("item"), cents=pl.when(sure).then("cents"))


def _on_flat_bonuses(weeks: Frame, earned: Frame, due: Due) -> Exact:
    """Return what overtime and double time owe on flat bonuses that straight hours divide, by week."""
    flats = flat_bonuses(earned, weeks)
    rows = flats["week"].to_numpy().astype(np.intp)
    owed = Exact(whole(flats["in_rate"]), whole(flats["below"]) * due.straight_s[rows])
    return owed.times(3 * due.overtime_s[rows] + 4 * due.double_s[rows], 2).summed(rows, weeks.height)


def _cents(amounts: Exact) -> pl.Series:
    return pl.Series(amounts.rounded(100), dtype=pl.Int128)
