"""Hold what is owed against what payroll was told, line by line; lines of several files add up.

A file tells what is owed less what other files have told already. So over all files in force the lines add up to what
is owed, whatever was changed, replaced and adjusted in between, and in whichever order.
"""

from __future__ import annotations

from collections.abc import Collection

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.handed_off import CLOSED_CHANGES, HANDED_OFF
from evenhand.terms.payroll import DIFFERENTIAL, EARNED_ITEMS, ON_EARNINGS, REOPENED

__all__ = ["ALWAYS_IN_MONEY", "closed_changes", "in_lines", "net", "taken_from", "told_in"]

KEY = list(HANDED_OFF.key)
AMOUNT = pl.Decimal(18, 4)
ALWAYS_IN_MONEY = frozenset({*EARNED_ITEMS.values(), REOPENED})
"""Items that payroll cannot work out from hours, and is told in money whatever its file holds."""


def net(*lines: Frame) -> Frame:
    """Return lines (HANDED_OFF) added up, without those that come to nothing."""
    summed = pl.concat([HANDED_OFF.empty(), *(one.select(HANDED_OFF.names) for one in lines)]).group_by(KEY)
    sums = summed.agg(pl.col("seconds").sum(), pl.col("amount").sum().cast(AMOUNT))
    return sums.filter((pl.col("seconds") != 0) | (pl.col("amount") != 0)).select(HANDED_OFF.names).sort(KEY)


def taken_from(lines: Frame, told: Frame) -> Frame:
    """Return what `lines` hold beyond what was `told` (both HANDED_OFF); below zero where more was told."""
    less = told.select(HANDED_OFF.names).with_columns(-pl.col("seconds"), (-pl.col("amount")).cast(AMOUNT))
    return net(lines, less)


def told_in(lines: Frame, money: Collection[str]) -> Frame:
    """Return lines (HANDED_OFF) of time, and of the items that are told in `money`; `differential:` is all of them.

    With `on_earnings:` among these, what rests on earnings is held too of the items that are told in hours alone: what
    a later bonus adds to them is in no hour (29 CFR 778.209(c)). Older files have it not on record.
    """
    items = {*money, *ALWAYS_IN_MONEY}
    is_told = pl.col("item").is_in(list(items))
    if DIFFERENTIAL in items:
        is_told |= pl.col("item").str.starts_with(DIFFERENTIAL)
    if ON_EARNINGS in items:
        part_of = pl.col("item").str.strip_prefix(ON_EARNINGS)
        is_told |= pl.col("item").str.starts_with(ON_EARNINGS) & ~part_of.is_in(list(items))
    return lines.filter((pl.col("seconds") != 0) | is_told)


def closed_changes(owed: Frame, told: Frame, unknown: Frame) -> Frame:
    """Return where what is owed is not what was told (both HANDED_OFF), as CLOSED_CHANGES by person, week and day.

    `unknown` (person, workweek, item) is money of which it is not known what is owed; it is not compared.
    """
    sides = [
        net(one).rename({"seconds": f"seconds_{side}", "amount": f"amount_{side}"})
        for side, one in (("before", told), ("after", owed))
    ]
    both = sides[0].join(sides[1], on=KEY, how="full", coalesce=True, nulls_equal=True)
    times, amounts = (pl.col(f"{name}_before", f"{name}_after") for name in ("seconds", "amount"))
    both = both.with_columns(times.fill_null(0), amounts.fill_null(pl.lit(0, dtype=AMOUNT)))
    kinds = unknown.select("person", "workweek", "item").unique().with_columns(is_unknown=pl.lit(value=True))
    both = both.join(kinds, on=["person", "workweek", "item"], how="left").with_columns(
        amount_after=pl.when(pl.col("is_unknown")).then("amount_before").otherwise("amount_after")
    )
    is_other = (pl.col("seconds_before") != pl.col("seconds_after")) | (
        pl.col("amount_before") != pl.col("amount_after")
    )
    return both.filter(is_other).select(CLOSED_CHANGES.names).sort(KEY)


def in_lines(changes: Frame) -> Frame:
    """Return changes (CLOSED_CHANGES) as the lines (HANDED_OFF) that make them good."""
    return changes.select(
        *KEY,
        seconds=pl.col("seconds_after") - pl.col("seconds_before"),
        amount=(pl.col("amount_after") - pl.col("amount_before")).cast(AMOUNT),
    )
