"""Whether a week's pay for its hours reaches the minimum wage of each day's hours.

Source: 29 USC 206(a)(1)(C); Labor Department Fact Sheets 53 and 54 (pay of the week over all hours worked).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import polars as pl

from evenhand.pay.exact import Exact, whole
from evenhand.terms.columns import Frame
from evenhand.terms.pay_law import PayLaw

__all__ = ["minimum_wages", "short_of_minimum"]


def minimum_wages(rows: Frame, day: str, laws: Sequence[PayLaw]) -> pl.Series:
    """Return the minimum wage [cent an hour] of each row's `day`, under the law whose place `law` is."""
    days = rows.select("law", day=day)
    pairs = days.unique()
    cents = [int(laws[law].minimum_wage(on)[0] * 100) for law, on in pairs.iter_rows()]
    known = pairs.with_columns(minimum=pl.Series(cents, dtype=pl.Int64))
    return days.join(known, on=["law", "day"], how="left", maintain_order="left")["minimum"]


def short_of_minimum(weeks: Frame, parts: Frame, earned: Frame, laws: Sequence[PayLaw]) -> Exact:
    """Return what each week's pay for its hours falls short of the minimum wage of each day's hours, else 0.

    A salary pays for what lies beyond the hours it covers too, so what is paid counts, and of a sum for a longer time
    the week's share.
    """
    of_days = parts.group_by("week", "law", "day").agg(pl.col("worked_s").sum())
    of_days = of_days.with_columns(needed=minimum_wages(of_days, "day", laws) * pl.col("worked_s"))
    of_weeks = of_days.group_by("week").agg(pl.col("needed").sum())
    of_weeks = weeks.select("week").join(of_weeks, on="week", how="left", maintain_order="left")
    counted = earned.filter((pl.col("in_rate") != 0) | (pl.col("credit") != 0))
    paid = counted.select(pl.when(pl.col("spread_s") > 0).then("amount").otherwise("in_rate")).to_series()
    rows = counted["week"].to_numpy().astype(np.intp)
    sums = Exact(whole(paid), whole(counted["below"])).summed(rows, weeks.height)
    return (
        Exact(whole(of_weeks["needed"].fill_null(0)), np.full(weeks.height, 100 * 3600, np.object_)) - sums
    ).not_below_zero()
