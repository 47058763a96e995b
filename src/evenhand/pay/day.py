"""What one day adds to its week's pay: straight pay at each hourly rate, and its overtime at the week's rate."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from evenhand.pay.lines import BEYOND
from evenhand.pay.rates import rates_of_people
from evenhand.pay.regular_rate import money
from evenhand.pay.stretches import weeks_of_time
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
    classed: Frame, owned: Frame, people: Frame, rates: Frame, zones: Mapping[str, str], week_lines: Frame
) -> list[DayPart]:
    """Return what one person's day, cut out of its week (CLASSED), is worth.

    `week_lines` (PAY_LINES) are its week's, whose rates its overtime is owed at. Time under a salary, or paid by
    the piece, day or job, has no straight pay of its own. The week's lines are what is paid: they are rounded
    once for the week, so days may differ from them by a cent or two.
    """
    weeks = weeks_of_time(classed, owned, rates_of_people(rates, people), zones).values()
    owed = dict(week_lines.filter(week_lines["part"] == "overtime").select("label", "rate").iter_rows())
    parts = []
    for week in weeks:
        for rate, seconds in week.by_rate.items():
            if rate is not None and rate.plan == "hourly":
                where = f" at {rate.reader}" if rate.reader else ""
                parts.append(_part(f"hourly pay{where}", seconds, rate.amount))
        for multiple, seconds in week.beyond.items():
            _, label = BEYOND[multiple]
            if (rate_beyond := owed.get(label)) is not None:
                parts.append(_part(label, seconds, Fraction(rate_beyond)))
    return parts


def _part(label: str, seconds: int, rate: Fraction) -> DayPart:
    return DayPart(label, seconds, money(rate * 100) / 100, money(rate * seconds / 3600))
