"""The table of workweeks that pay is worked out for: those asked for, and earlier ones that a payment reopens."""

from __future__ import annotations

from datetime import date

import polars as pl

from evenhand.pay.binding import Binding
from evenhand.pay.worktime import CLASSES, WEEK, WorkTime
from evenhand.terms.columns import Frame

__all__ = ["table_of_weeks", "time_needed"]

SECONDS = ("worked_s", *CLASSES)


def time_needed(classed: Frame, paid: Frame, weeks: tuple[date, date]) -> Frame:
    """Return the rows of CLASSED in the weeks asked for, and in those that payments made with one of them reopen."""
    first, last = weeks
    asked = classed.filter(pl.col("workweek").is_between(first, last))
    settled = paid.filter(pl.col("settles").is_between(first, last), pl.col("opens") < first)
    if settled.is_empty():
        return asked
    since = settled.group_by("person").agg(pl.col("opens").min())
    before = classed.filter(pl.col("workweek") < first).join(since, on="person")
    return pl.concat([before.filter(pl.col("workweek") >= pl.col("opens")).drop("opens"), asked])


def table_of_weeks(time: WorkTime, paid: Frame, weeks: tuple[date, date], binding: Binding) -> Frame:
    """Return a row for each workweek with time, and each one asked for with a payment, by person.

    Columns: week (place from 0), person, workweek, site, asked, worked_s, straight_s, overtime_s, double_s, law (place
    among the laws), salary_hours_s and by_straight_hours (that law's).
    """
    asked = pl.col("workweek").is_between(*weeks)
    worked = time.parts.group_by(*WEEK).agg(pl.col(*SECONDS).sum())
    settled = paid.select("person", workweek="settles").filter(asked).unique()
    table = worked.join(settled, on=WEEK, how="full", coalesce=True).with_columns(pl.col(*SECONDS).fill_null(0))
    table = table.sort(*WEEK).join(binding.placed.select("person", "site"), on="person", maintain_order="left")
    return (
        table.with_columns(asked=asked)
        .join(_law_of(table, binding), on=["site", "workweek"], maintain_order="left")
        .with_row_index("week")
    )


def _law_of(table: Frame, binding: Binding) -> Frame:
    """Return the law of each site's workweek: site, workweek, law, salary_hours_s, by_straight_hours."""
    pairs = table.select("site", "workweek").unique()
    names = list(binding.laws)
    law = [names.index(binding.rules[site].on(day).jurisdiction) for site, day in pairs.iter_rows()]
    return pairs.with_columns(
        law=pl.Series(law, dtype=pl.Int64),
        salary_hours_s=pl.Series([binding.listed[place].salary_hours_s for place in law], dtype=pl.Int64),
        by_straight_hours=pl.Series(
            [binding.listed[place].flat_bonus_by_straight_hours for place in law], dtype=pl.Boolean
        ),
    )
