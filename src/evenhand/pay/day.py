"""What one day adds to its week's pay: straight pay at each hourly rate, and its overtime at the week's rate."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

import polars as pl

from evenhand.pay.compute import Pay
from evenhand.pay.earned.by_rate import hourly_label
from evenhand.pay.exact import UNITS, Exact, whole
from evenhand.pay.lines import BEYOND
from evenhand.terms.columns import Frame

__all__ = ["DayPart", "parts_of_day"]


@dataclass(frozen=True)
class DayPart:
    """Part of a day's worth: its time, rate (to four decimals) and amount to the cent."""

    label: str
    seconds: int
    rate: Decimal
    amount: Decimal


def parts_of_day(week: Pay, starts: int, ends: int) -> list[DayPart]:
    """Return what the time of one person's week is worth that lies in the day between two instants.

    Its overtime is owed at the week's rates. Time under a salary, or paid by the piece, day or job, has no straight
    pay of its own. The week's lines are what is paid: they are rounded once for the week, so days may differ from
    them by a cent or two.
    """
    spent = pl.min_horizontal("ends", pl.lit(ends)) - pl.max_horizontal("starts", pl.lit(starts))
    spans = week.time.rated_within(week.weeks).with_columns(spent=spent).filter(pl.col("spent") > 0)
    hourly = week.held.filter(pl.col("plan") == "hourly").select("rate", "amount", at="reader")
    worked = spans.group_by("rate", maintain_order=True).agg(seconds=pl.col("spent").sum())
    worked = worked.join(hourly, on="rate", maintain_order="left").select("seconds", "amount", label=hourly_label("at"))
    owed = week.lines.filter(pl.col("part") == "overtime").select(
        "label", amount=pl.col("rate").cast(pl.Decimal(18, 4)).to_physical().cast(pl.Int64)
    )
    beyond = spans.group_by(label=pl.col("pay_class").replace_strict(BEYOND, default=None), maintain_order=True).agg(
        seconds=pl.col("spent").sum()
    )
    beyond = owed.join(beyond, on="label", maintain_order="left").select("seconds", "amount", "label")
    return _parts(pl.concat([worked, beyond]))


def _parts(worth: Frame) -> list[DayPart]:
    seconds, units = whole(worth["seconds"]), whole(worth["amount"])
    amounts = Exact(units * seconds, seconds * 0 + 3600 * UNITS).cents()
    rates = Exact(units, units * 0 + UNITS).four_decimals()
    return [DayPart(*part) for part in zip(worth["label"], worth["seconds"], rates, amounts, strict=True)]
