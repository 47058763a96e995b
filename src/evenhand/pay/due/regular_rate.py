"""The regular rate of each workweek, and what overtime and double time owe on it.

Regular rate = all pay for the week except what the statute lists as excluded, over all hours worked that week
(29 CFR 778.109). Straight pay already pays every hour once, so each overtime hour is owed only what its multiple
adds: a half at one and a half times, a whole at double. Everything is an exact fraction; money is rounded once,
half up, for each sum the law treats as one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.pay.exact import Exact, Whole, whole
from evenhand.terms.columns import Frame

__all__ = ["Due", "flat_bonuses", "hourly_value", "weeks_due"]


@dataclass(frozen=True)
class Due:
    """What each week owes beyond straight pay, in exact amounts, by the week's place in the table of weeks.

    `rate` is the regular rate without `flat_rate`, the value for an hour of flat bonuses that are divided by the hours
    that are not overtime; `half` and `full` are what overtime and double time add at `rate`, `credit` has been paid
    already. `worked_s`, `straight_s`, `overtime_s` and `double_s` are the week's seconds.
    """

    rate: Exact
    flat_rate: Exact
    half: Exact
    full: Exact
    credit: Exact
    worked_s: Whole
    straight_s: Whole
    overtime_s: Whole
    double_s: Whole

    @property
    def regular_rate(self) -> Exact:
        """Return the regular rate with the flat bonuses' value for an hour."""
        return self.rate + self.flat_rate

    @property
    def premium(self) -> Exact:
        """Return what is due beyond straight pay at the regular rate, before credits."""
        return self.half + self.full

    @property
    def beyond_s(self) -> Whole:
        """Return the seconds that are overtime or double time."""
        beyond: Whole = self.overtime_s + self.double_s
        return beyond


def weeks_due(weeks: Frame, earned: Frame) -> Due:
    """Return what each of `weeks` (worked_s, straight_s, overtime_s, double_s) owes on its entries, sorted by week.

    Where nobody worked nothing is owed, and a flat bonus that no straight hours stand against is left out: both are
    faults. Source: 29 CFR 778.109, 778.110-115, 778.201 (credits); 29 USC 207(h).
    """
    worked, straight, overtime, double = (
        whole(weeks[name]) for name in ("worked_s", "straight_s", "overtime_s", "double_s")
    )
    counted = earned.filter(weeks["worked_s"].gather(earned["week"]) > 0, ~pl.col("is_flat"))
    rows = counted["week"].to_numpy().astype(np.intp)
    rate = hourly_value(counted, worked).summed(rows, len(worked))
    credit = Exact(whole(counted["credit"]), whole(counted["below"])).summed(rows, len(worked))
    flats = flat_bonuses(earned, weeks)
    flat_rate = Exact(whole(flats["in_rate"]) * 3600, whole(flats["below"]))
    flat_rows = flats["week"].to_numpy().astype(np.intp)
    flat_rate = flat_rate.times(1, straight[flat_rows]).summed(flat_rows, len(worked))
    half, full = rate.times(overtime, 2 * 3600), rate.times(double, 3600)
    return Due(rate, flat_rate, half, full, credit, worked, straight, overtime, double)


def hourly_value(counted: Frame, worked_s: Whole) -> Exact:
    """Return what each entry adds to the regular rate: over the hours worked, or over those it was agreed to cover."""
    spread = whole(counted["spread"])
    over = np.where(spread > 0, spread, worked_s[counted["week"].to_numpy()])
    return Exact(whole(counted["in_rate"]) * 3600 * whole(counted["spread_below"]), whole(counted["below"]) * over)


def flat_bonuses(earned: Frame, weeks: Frame) -> Frame:
    """Return the flat bonuses that straight hours stand against.

    Such a bonus is divided by the hours worked that are not overtime, and each overtime hour is owed its whole
    multiple, not only what the multiple adds. Source: Alvarado v. Dart Container, 4 Cal.5th 542 (2018).
    """
    flats = earned.filter(pl.col("is_flat"))
    return flats.filter(weeks["straight_s"].gather(flats["week"]) > 0)
