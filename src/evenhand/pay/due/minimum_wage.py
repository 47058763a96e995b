"""What a week's pay for its hours is raised by to reach the minimum wage of each day's hours.

Sources: 29 USC 206(a)(1)(C), Labor Department Fact Sheets 53 and 54 (pay of the week over all hours worked); 29 CFR
778.5: a regular rate is never below a minimum wage that another law sets, so what is short is paid before it is taken.
Where a law holds each hour's own rate against the wage (California: Armenta v. Osmose, 135 Cal.App.4th 314), better
paid hours and sums beside the hours lift none; time that is not paid by the hour is then averaged over itself, and what
a differential adds is not counted toward its hours (our reading).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import gcd

import numpy as np
import polars as pl

from evenhand.pay.earned.entries import entries
from evenhand.pay.exact import UNITS, Exact, Rows, whole
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.payroll import RAISED

__all__ = ["minimum_wages", "raise_entries", "short_of_minimum"]

BY_RATE, DIFFERENTIALS, PLACE = 0, 4, 5


def minimum_wages(rows: Frame, day: str, laws: Sequence[PayLaw]) -> pl.Series:
    """Return the minimum wage [cent an hour] of each row's `day`, under the law whose place `law` is."""
    days = rows.select("law", day=day)
    pairs = days.unique()
    cents = [int(laws[law].minimum_wage(on)[0] * 100) for law, on in pairs.iter_rows()]
    known = pairs.with_columns(minimum=pl.Series(cents, dtype=pl.Int64))
    return days.join(known, on=["law", "day"], how="left", maintain_order="left")["minimum"]


def short_of_minimum(weeks: Frame, parts: Frame, earned: Frame, held: Frame, laws: Sequence[PayLaw]) -> Exact:
    """Return what each week's pay for its hours falls short of the minimum wage of each day's hours, else 0.

    `parts` (WorkTime's) have their week and law, and `earned` are its entries; `held` are the rates (HeldRates). A
    salary pays for what lies beyond the hours it covers too, so what is paid counts, and of a sum for a longer time
    the week's share.
    """
    each_hour = pl.Series([bool(laws[law].minimum_each_hour) for law in weeks["law"]], dtype=pl.Boolean)
    plans = held.select("rate", by_hour=pl.col("plan") == "hourly", units="amount")
    timed = parts.select("week", "law", "day", "worked_s", "rate").join(
        plans, on="rate", how="left", maintain_order="left"
    )
    timed = timed.with_columns(
        each_hour.gather(timed["week"]).alias("alone") & pl.col("by_hour").fill_null(value=False),
        least=minimum_wages(timed, "day", laws) * (UNITS // 100),
    )
    alone = pl.col("alone")
    short = pl.max_horizontal(pl.col("least") - pl.col("units"), 0) * pl.col("worked_s")
    of_weeks = timed.group_by("week").agg(
        alone=short.filter(alone).sum(),
        needed=(pl.col("least") * pl.col("worked_s")).filter(~alone).sum(),
        averaged_s=pl.col("worked_s").filter(~alone).sum(),
    )
    of_weeks = weeks.select("week").join(of_weeks, on="week", how="left", maintain_order="left").fill_null(0)
    below = np.full(weeks.height, UNITS * 3600, np.object_)
    paid = _paid(weeks, earned, each_hour)
    averaged = (Exact(whole(of_weeks["needed"]), below) - paid).not_below_zero()
    averaged = averaged.where((of_weeks["averaged_s"] > 0).to_numpy(), Exact.zeros(weeks.height))
    return Exact(whole(of_weeks["alone"]), below) + averaged


def _paid(weeks: Frame, earned: Frame, each_hour: pl.Series) -> Exact:
    """Return what each week pays for averaged hours: not for those by the hour where each of these counts alone."""
    of_hours = (pl.col("place") == DIFFERENTIALS) | (pl.col("place") == BY_RATE) & (pl.col("kind") == "hourly")
    counted = earned.filter(pl.col("in_rate") != 0)
    counted = counted.filter(~(each_hour.gather(counted["week"]) & of_hours))
    paid = counted.select(pl.when(pl.col("spread") > 0).then("amount").otherwise("in_rate")).to_series()
    rows = counted["week"].to_numpy().astype(np.intp)
    return Exact(whole(paid), whole(counted["below"])).summed(rows, weeks.height)


def raise_entries(weeks: Frame, short: Exact, rows: Rows) -> Frame:
    """Return an entry for each week among `rows` that is short of the minimum wage by a cent or more.

    It counts in the regular rate as pay for all hours of the week. Source: 29 CFR 778.5.
    """
    at = rows[np.array(short.take(rows).rounded(100), dtype=np.int64) > 0]
    fractions = [(top // gcd(top, below), below // gcd(top, below)) for top, below in zip(
        short.top[at].tolist(), short.below[at].tolist(), strict=True)]  # fmt: skip
    amount = pl.Series([top for top, _ in fractions], dtype=pl.Int128)
    return entries(
        weeks[at].with_columns(amount=amount, below=pl.Series([below for _, below in fractions], dtype=pl.Int128)),
        place=PLACE,
        order=0,
        kind="minimum_wage",
        item=RAISED,
        label=sentence("raised to the minimum wage"),
        below=pl.col("below"),
        amount=pl.col("amount"),
        in_rate=pl.col("amount"),
    )
