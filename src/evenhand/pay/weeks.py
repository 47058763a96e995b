"""The workweeks that pay is worked out for: those asked for, and earlier ones that a payment reopens."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
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

SECONDS = ("worked_s", *PAY_CLASSES)


@dataclass(frozen=True)
class PayableWeeks:
    """What weeks are paid from: who is bound by what, the rates held, what was earned beside hours, time, and weeks.

    `paid` are `payments`; `table` has a row for each workweek with time, and each one asked for with a payment, by
    person: week (place from 0), person, workweek, site, asked, worked_s, straight_s, overtime_s, double_s, law (place
    among the laws), salary_hours_s and by_straight_hours (that law's).
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
        """Return what is paid with each week, with its share."""
        return with_share(self.within(self.paid.rename({"settles": "workweek"})), "workweek")

    def within(self, frame: Frame) -> Frame:
        """Return the rows of `frame` that lie in weeks of the table, with the week's place and law, in their order."""
        weeks = self.table.select(*WEEK, "week", "law", "by_straight_hours", "salary_hours_s")
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
    time = work_time(_time_needed(classed, paid, weeks), attributed, binding.placed, held, raised)
    return PayableWeeks(binding, held, paid, time, _table(time, paid, weeks, binding))


def _time_needed(classed: Frame, paid: Frame, weeks: tuple[date, date]) -> Frame:
    """Return the rows of CLASSED in the weeks asked for, and in those that payments made with one of them reopen."""
    first, last = weeks
    asked = classed.filter(pl.col("workweek").is_between(first, last))
    settled = paid.filter(pl.col("settles").is_between(first, last), pl.col("opens") < first)
    if settled.is_empty():
        return asked
    since = settled.group_by("person").agg(pl.col("opens").min())
    before = classed.filter(pl.col("workweek") < first).join(since, on="person")
    return pl.concat([before.filter(pl.col("workweek") >= pl.col("opens")).drop("opens"), asked])


def _table(time: WorkTime, paid: Frame, weeks: tuple[date, date], binding: Binding) -> Frame:
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
