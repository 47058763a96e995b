"""The workweeks that pay is worked out for: those asked for, those that share their regular rate, and reopened ones."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

import polars as pl

from evenhand.pay.binding import Binding, bind
from evenhand.pay.earned.payments import payments, with_share
from evenhand.pay.rates.held import HeldRates, held_rates
from evenhand.pay.worktime import PAY_CLASSES, WEEK, WorkTime, work_time
from evenhand.terms.columns import Frame
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.settings import SiteRules

__all__ = ["PayableWeeks", "weeks_to_pay"]

WORKWEEK = 7
SECONDS = ("worked_s", *PAY_CLASSES)


@dataclass(frozen=True)
class PayableWeeks:
    """What weeks are paid from: who is bound by what, the rates held, what was earned beside hours, time, and weeks.

    `paid` are `payments`; `table` has a row for each workweek with time, and each one with a payment that is asked for
    or shares the regular rate of one, by person: week (place from 0), person, workweek, site, asked, worked_s,
    straight_s, overtime_s, double_s, law (place among the laws), salary_hours_s and by_straight_hours (that law's),
    period (first day of its regular-rate period) and period_days.
    """

    binding: Binding
    held: HeldRates
    paid: Frame
    time: WorkTime
    table: Frame

    @cached_property
    def asked(self) -> Frame:
        """Return the rows of the table that are asked for; the others are reopened."""
        return self.table.filter("asked")

    @cached_property
    def parts(self) -> Frame:
        """Return the parts of the time, with their week."""
        return self.within(self.time.parts)

    @cached_property
    def by_rate(self) -> Frame:
        """Return the time of each week under each rate, in order of first use, with what the rate is."""
        seconds = self.parts.filter(pl.col("rate").is_not_null()).group_by("week", "rate", maintain_order=True)
        used = seconds.agg(
            pl.col("person", "workweek", "salary_hours_s").first(), pl.col("worked_s", "straight_s").sum()
        )
        terms = self.held.rates.drop("person").rename({"reader": "held_at"})
        return used.with_row_index("order").join(terms, on="rate", maintain_order="left")

    @cached_property
    def settled(self) -> Frame:
        """Return what is paid with each week, with its share of the regular-rate period up to that week's end."""
        paid = self.within(self.paid.rename({"settles": "workweek"})).filter(pl.col("week").is_not_null())
        return with_share(paid, "period", pl.col("workweek") + timedelta(days=6))

    def within(self, frame: Frame) -> Frame:
        """Return the rows of `frame` that lie in weeks of the table, with the week's place and law, in their order."""
        weeks = self.table.select(*WEEK, "week", "law", "by_straight_hours", "salary_hours_s", "period", "period_days")
        return frame.join(weeks, on=WEEK, maintain_order="left")


def weeks_to_pay(
    classed: Frame,
    attributed: Frame,
    people: Frame,
    rates: Frame,
    earnings: Frame,
    rules: Mapping[str, SiteRules],
    laws: Mapping[str, PayLaw],
    weeks: tuple[date, date],
) -> PayableWeeks:
    """Return what the workweeks that begin from `weeks[0]` to `weeks[1]` are paid from; see `compute_pay`."""
    binding, held = bind(people, rules, laws), held_rates(rates, people)
    paid = payments(earnings, binding, weeks, held.rates)
    raised = {day for law in binding.listed for wage in law.minimum_wages for day, _, _ in wage.values}
    time = work_time(_needed(classed, paid, weeks, binding), attributed, binding.placed, held, raised)
    return PayableWeeks(binding, held, paid, time, _table(time, paid, weeks, binding))


def _needed(rows: Frame, paid: Frame, weeks: tuple[date, date], binding: Binding) -> Frame:
    """Return the rows (person, workweek) of the weeks that the pay of those asked for rests on.

    Beside these they are those that share their regular-rate periods, and the periods that payments made with one of
    them reopen.
    """
    first, last = weeks
    asked = rows.filter(pl.col("workweek").is_between(first, last))
    settled = paid.filter(pl.col("settles").is_between(first, last), pl.col("opens") < first)
    longest = binding.longest_period
    if settled.is_empty() and longest == WORKWEEK:
        return asked
    back = settled.group_by("person").agg(since=pl.col("opens").min())
    before = rows.filter(pl.col("workweek") < first).join(back, on="person", how="left")
    before = before.with_columns(pl.col("since").fill_null(first))
    before = before.filter(pl.col("workweek") >= pl.col("since") - timedelta(days=longest - WORKWEEK))
    placed = before.join(binding.placed.select("person", "site"), on="person")
    placed = placed.join(_law_of(placed, binding), on=["site", "workweek"], maintain_order="left")
    last_workweek = pl.col("period") + pl.duration(days=pl.col("period_days") - WORKWEEK)
    return pl.concat([placed.filter(last_workweek >= pl.col("since")).select(rows.columns), asked])


def _table(time: WorkTime, paid: Frame, weeks: tuple[date, date], binding: Binding) -> Frame:
    worked = time.parts.group_by(*WEEK).agg(pl.col(*SECONDS).sum())
    settled = _needed(paid.select("person", workweek="settles").unique(), paid, weeks, binding)
    table = worked.join(settled, on=WEEK, how="full", coalesce=True).with_columns(pl.col(*SECONDS).fill_null(0))
    table = table.sort(*WEEK).join(binding.placed.select("person", "site"), on="person", maintain_order="left")
    return (
        table.with_columns(asked=pl.col("workweek").is_between(*weeks))
        .join(_law_of(table, binding), on=["site", "workweek"], maintain_order="left")
        .with_row_index("week")
    )


def _law_of(table: Frame, binding: Binding) -> Frame:
    """Return the law of each site's workweek: site, workweek, and what it decides of `PayableWeeks.table`."""
    pairs = table.select("site", "workweek").unique()
    names = list(binding.laws)
    periods = [binding.rate_period(site, day) for site, day in pairs.iter_rows()]
    law = [names.index(binding.rules[site].on(day).jurisdiction) for site, day in pairs.iter_rows()]
    return pairs.with_columns(
        law=pl.Series(law, dtype=pl.Int64),
        salary_hours_s=pl.Series([binding.listed[place].salary_hours_s for place in law], dtype=pl.Int64),
        by_straight_hours=pl.Series(
            [binding.listed[place].flat_bonus_by_straight_hours for place in law], dtype=pl.Boolean
        ),
        period=pl.Series([first for first, _ in periods], dtype=pl.Date),
        period_days=pl.Series([days for _, days in periods], dtype=pl.Int64),
    )
