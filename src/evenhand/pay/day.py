"""What one day adds to its week's pay: straight pay at each hourly rate, and its overtime at the week's rate."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

import polars as pl

from evenhand.pay.earned.by_rate import hourly_label
from evenhand.pay.exact import UNITS, Exact, whole
from evenhand.pay.lines import BEYOND
from evenhand.pay.rates.held import held_rates
from evenhand.pay.worktime import work_time
from evenhand.terms.columns import Frame

__all__ = ["DayPart", "parts_of_day"]


@dataclass(frozen=True)
class DayPart:
    """Part of a day's worth: its time, rate (to four decimals) and amount to the cent."""

    label: str
    seconds: int
    rate: Decimal
    amount: Decimal


def parts_of_day(
    classed: Frame, attributed: Frame, people: Frame, rates: Frame, zones: Mapping[str, str], week_lines: Frame
) -> list[DayPart]:
    """Return what one person's day, cut out of its week (CLASSED), is worth.

    `week_lines` (PAY_LINES) are its week's, whose rates its overtime is owed at. Time under a salary, or paid by
    the piece, day or job, has no straight pay of its own. The week's lines are what is paid: they are rounded
    once for the week, so days may differ from them by a cent or two.
    """
    held = held_rates(rates, people)
    placed = pl.select(person=pl.Series(list(zones), dtype=pl.String), zone=pl.Series(list(zones.values())))
    parts = work_time(classed, attributed, placed, held).parts
    hourly = held.rates.filter(pl.col("plan") == "hourly").select("rate", "amount", at="reader")
    worked = parts.group_by("rate", maintain_order=True).agg(seconds=pl.col("worked_s").sum())
    worked = worked.join(hourly, on="rate", maintain_order="left").select("seconds", "amount", label=hourly_label("at"))
    owed = week_lines.filter(pl.col("part") == "overtime").select(
        "label", amount=pl.col("rate").cast(pl.Decimal(18, 4)).to_physical().cast(pl.Int64)
    )
    beyond = pl.select(
        label=pl.Series(list(BEYOND.values())), seconds=pl.Series([parts[f"{kind}_s"].sum() for kind in BEYOND])
    ).filter(pl.col("seconds") > 0)
    beyond = beyond.join(owed, on="label", maintain_order="left").select("seconds", "amount", "label")
    return _parts(pl.concat([worked, beyond]))


def _parts(worth: Frame) -> list[DayPart]:
    seconds, units = whole(worth["seconds"]), whole(worth["amount"])
    amounts = Exact(units * seconds, seconds * 0 + 3600 * UNITS).cents()
    rates = Exact(units, units * 0 + UNITS).four_decimals()
    return [DayPart(*part) for part in zip(worth["label"], worth["seconds"], rates, amounts, strict=True)]
