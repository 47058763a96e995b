"""The regular rate of each workweek, and what overtime and double time owe on it.

Regular rate = all pay for the week except what the statute lists as excluded, over all hours worked that week
(29 CFR 778.109). Straight pay already pays every hour once, so each overtime hour is owed only what its multiple
adds: a half at one and a half times, a whole at double. Everything is an exact fraction; money is rounded once,
half up, for each sum the law treats as one.

Where a law takes the rate over a longer period (29 USC 207(j) and (k)) a week is paid at the rate of its period so far,
and what its later weeks make of the overtime before them is paid with these: what cannot be told on a pay day is paid
as soon after as it can be (29 CFR 778.106).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.pay.exact import Exact, Rows, Whole, whole
from evenhand.terms.columns import Frame

__all__ = ["PERIOD", "Due", "flat_bonuses", "weeks_due"]

PERIOD = ("person", "law", "period", "period_days")
"""The weeks that are alike in these share a regular rate."""


@dataclass(frozen=True)
class Due:
    """What each week's regular-rate period owes beyond straight pay up to the week's end, by the week's place in the
    table of weeks; in a law that takes the rate by the workweek, what the week owes.

    `rate` is the regular rate without `flat_rate`, the value for an hour of flat bonuses that are divided by the hours
    that are not overtime; `premium` is what overtime and double time add at `rate`, `credit` has been paid already.
    `worked_s`, `straight_s`, `overtime_s` and `double_s` are the seconds. `before` is the place of the week before in
    the same period, -1 in its first.
    """

    rate: Exact
    flat_rate: Exact
    premium: Exact
    credit: Exact
    worked_s: Whole
    straight_s: Whole
    overtime_s: Whole
    double_s: Whole
    before: Rows

    @property
    def regular_rate(self) -> Exact:
        """Return the regular rate with the flat bonuses' value for an hour."""
        return self.rate + self.flat_rate

    @property
    def beyond_s(self) -> Whole:
        """Return the seconds that are overtime or double time."""
        beyond: Whole = self.overtime_s + self.double_s
        return beyond

    def of_week(self, to_date: Exact) -> Exact:
        """Return what each week adds to amounts up to its end, each of which is rounded once to the cent, half up."""
        cents = np.array(to_date.rounded(100), dtype=np.object_)
        before = np.where(self.before >= 0, cents[self.before], 0) if len(cents) else cents
        return Exact(cents - before, np.full(len(cents), 100, np.object_))


def weeks_due(weeks: Frame, earned: Frame) -> Due:
    """Return what each of `weeks` owes on its entries, sorted by week.

    Where nobody worked nothing is owed, and a flat bonus that no straight hours stand against is left out: both are
    faults. No law both divides flat bonuses by straight hours and takes the rate over more than a workweek. Source: 29
    CFR 778.109, 778.110-115, 778.201 (credits); 29 USC 207(h).
    """
    names = ("worked_s", "straight_s", "overtime_s", "double_s")
    so_far = weeks.select(pl.col(*names).cum_sum().over(PERIOD), before=pl.col("week").shift(1).over(PERIOD))
    worked, straight, overtime, double = (whole(so_far[name]) for name in names)
    counted = _to_date(earned.filter(~pl.col("is_flat")), weeks)
    counted = counted.filter(so_far["worked_s"].gather(counted["week"]) > 0)
    rows = counted["week"].to_numpy().astype(np.intp)
    rate = _hourly_value(counted, worked).summed(rows, len(worked))
    credit = Exact(whole(counted["credit"]), whole(counted["below"])).summed(rows, len(worked))
    flats = flat_bonuses(earned, weeks)
    flat_rate = Exact(whole(flats["in_rate"]) * 3600, whole(flats["below"]))
    flat_rows = flats["week"].to_numpy().astype(np.intp)
    flat_rate = flat_rate.times(1, straight[flat_rows]).summed(flat_rows, len(worked))
    premium = rate.times(overtime + 2 * double, 2 * 3600)
    before = so_far["before"].cast(pl.Int64).fill_null(-1).to_numpy().astype(np.intp)
    return Due(rate, flat_rate, premium, credit, worked, straight, overtime, double, before)


def _to_date(earned: Frame, weeks: Frame) -> Frame:
    """Return entries, sorted by week, each once more for every later week of its regular-rate period.

    A salary that is divided by the hours it covers is so only where every week of the period that has hours has one;
    elsewhere it stands as part of the weighted average, as beside other rates within a week.
    """
    if (weeks["period_days"] == 7).all():
        return earned
    later = weeks.select(*PERIOD, "week").join(weeks.select(*PERIOD, of="week", time="worked_s"), on=PERIOD)
    later = later.filter(pl.col("of") <= pl.col("week"))
    with_time = later.group_by("week").agg(with_time=(pl.col("time") > 0).sum())
    every = later.select("week", "of").join(earned.rename({"week": "of"}), on="of").join(with_time, on="week")
    divides = (pl.col("spread") > 0).sum().over("week") == pl.col("with_time")
    every = every.with_columns(
        in_rate=pl.when((pl.col("spread") > 0) & ~divides).then("amount").otherwise("in_rate"),
        spread=pl.when(divides).then("spread").otherwise(0),
        spread_below=pl.when(divides).then("spread_below").otherwise(1),
    )
    return every.select(earned.columns).sort("week", maintain_order=True)


def _hourly_value(counted: Frame, worked_s: Whole) -> Exact:
    """Return what each entry adds to the regular rate: over the hours worked, or over those it was agreed to cover.

    A week has at most one that goes by hours it covers, all in the same share of a second.
    """
    spread = whole(counted.select(pl.col("spread").sum().over("week")).to_series())
    by_cover = (counted["spread"] > 0).to_numpy()
    over = np.where(by_cover, spread, worked_s[counted["week"].to_numpy()])
    return Exact(whole(counted["in_rate"]) * 3600 * whole(counted["spread_below"]), whole(counted["below"]) * over)


def flat_bonuses(earned: Frame, weeks: Frame) -> Frame:
    """Return the flat bonuses that straight hours stand against.

    Such a bonus is divided by the hours worked that are not overtime, and each overtime hour is owed its whole
    multiple, not only what the multiple adds. Source: Alvarado v. Dart Container, 4 Cal.5th 542 (2018).
    """
    flats = earned.filter(pl.col("is_flat"))
    return flats.filter(weeks["straight_s"].gather(flats["week"]) > 0)
