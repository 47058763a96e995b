"""What is owed for some workweeks, as lines by person, day and item.

Time is told by the civil day it falls on, premium hours by their workday, and money by the workweek: pay is worked out
and rounded by the week (29 CFR 778.104), so that no day has a part of its own in overtime or in a bonus.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import polars as pl

from evenhand.pay.closed.ledger import net
from evenhand.terms.columns import Frame
from evenhand.terms.payroll import DIFFERENTIAL, PREMIUM_ITEMS
from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["owed_lines"]

OF_WEEK = ("person", "workweek")
NOTHING = pl.lit(0, dtype=pl.Decimal(18, 4))
NO_RATE = pl.lit(None, dtype=pl.Decimal(18, 4))


def owed_lines(
    classed: Frame, premiums: Frame, differentials: Frame, pay_items: Frame | None, zones: Mapping[str, str]
) -> Frame:
    """Return what is owed (HANDED_OFF) for CLASSED, PREMIUMS, DIFFERENTIALS and PAY_ITEMS.

    `zones` place each person's days. Amounts that are not known have no line; None where no money is told.
    """
    time = classed.select(*OF_WEEK, "starts", "ends", item="pay_class")
    windows = differentials.select(*OF_WEEK, "starts", "ends", item=DIFFERENTIAL + pl.col("kind"))
    item = pl.col("kind").replace_strict(PREMIUM_ITEMS, return_dtype=pl.String)
    hours = pl.col("hours").cast(pl.Decimal(18, 4)).to_physical().cast(pl.Int64)
    hours_s = (hours * 3600 + 5_000) // 10_000
    spent = [
        _by_day(pl.concat([time, windows]), zones),
        premiums.select(*OF_WEEK, day="workday", item=item, seconds=hours_s),
    ]
    told = [
        one.select(*OF_WEEK, "day", "item", NO_RATE.alias("rate"), "seconds", NOTHING.alias("amount")) for one in spent
    ]
    if pay_items is not None:
        known = pay_items.filter(pl.col("amount").is_not_null())
        no_time = pl.lit(0, dtype=pl.Int64).alias("seconds")
        told.append(known.select(*OF_WEEK, pl.col("workweek").alias("day"), "item", "rate", no_time, "amount"))
    return net(*told)


def _by_day(spans: Frame, zones: Mapping[str, str]) -> Frame:
    """Return the seconds of spans by the civil day they fall on: person, workweek, item, day, seconds."""
    spans = spans.filter(pl.col("ends") > pl.col("starts")).with_columns(
        zone=pl.col("person").replace_strict(zones, default="UTC", return_dtype=pl.String)
    )
    parts = [_of_zone(rows, str(zone)) for (zone,), rows in spans.partition_by("zone", as_dict=True).items()]
    none = spans.select("person", "workweek", "item", pl.lit(None, dtype=pl.Date).alias("day"), seconds="ends").clear()
    return pl.concat([none, *parts])


def _of_zone(spans: Frame, zone: str) -> Frame:
    offsets = offsets_of(zone)
    first = offsets.to_local(spans["starts"].to_numpy()) // DAY_S
    last = offsets.to_local(spans["ends"].to_numpy() - 1) // DAY_S
    row = np.repeat(np.arange(spans.height), last - first + 1)
    day = first[row] + (np.arange(len(row)) - np.searchsorted(row, row))
    opens, closes = (offsets.from_local((day + later) * DAY_S)[0] for later in (0, 1))
    parts = spans[row].with_columns(
        day=pl.Series(day, dtype=pl.Int64).cast(pl.Int32).cast(pl.Date),
        opens=pl.Series(opens, dtype=pl.Int64),
        closes=pl.Series(closes, dtype=pl.Int64),
    )
    seconds = pl.min_horizontal("ends", "closes") - pl.max_horizontal("starts", "opens")
    return parts.select("person", "workweek", "item", "day", seconds=seconds)
