"""Pay of everybody's workweeks: lines with citations, totals, and what keeps a week from being paid.

Order of work: straight pay at each rate; what was earned beside the hours; the regular rate; the overtime and double
time owed on it, less credits; premium hours; what a payment for a longer time reopens. Each is one pass over the weeks
of everybody.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

import polars as pl

from evenhand.pay import faults, lines
from evenhand.pay.binding import bind
from evenhand.pay.due.minimum_wage import short_of_minimum
from evenhand.pay.due.premiums import premiums_due
from evenhand.pay.due.regular_rate import weeks_due
from evenhand.pay.due.reopened import reopened_weeks
from evenhand.pay.earned.by_rate import rate_entries
from evenhand.pay.earned.differentials import DifferentialRate, differential_entries
from evenhand.pay.earned.payments import payment_entries, payments, with_share
from evenhand.pay.rates.held import HeldRates, held_rates
from evenhand.pay.weeks import table_of_weeks, time_needed
from evenhand.pay.worktime import WEEK, WorkTime, work_time
from evenhand.terms.columns import Frame
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.settings import SiteRules
from evenhand.terms.tables import DIFFERENTIALS, PREMIUMS
from evenhand.terms.wages import PAY_WEEKS

__all__ = ["Pay", "compute_pay", "earliest_earned"]

SUMS = {
    "straight_pay": ("straight",),
    "overtime_premium": ("overtime", "reopened"),
    "premiums": ("premium",),
    "other_pay": ("excluded",),
    "total_pay": ("straight", "overtime", "reopened", "premium", "excluded"),
}


@dataclass(frozen=True)
class Pay:
    """Frames PAY_WEEKS and PAY_FAULTS; PAY_LINES are written out when they are first asked for."""

    weeks: Frame
    faults: Frame
    _lines: tuple[Frame, Frame, Frame, tuple[PayLaw, ...]]

    @cached_property
    def lines(self) -> Frame:
        """Return PAY_LINES."""
        return lines.pay_lines(*self._lines)


def compute_pay(
    classed: Frame,
    owned: Frame,
    people: Frame,
    rates: Frame,
    earnings: Frame,
    rules: Mapping[str, SiteRules],
    laws: Mapping[str, PayLaw],
    weeks: tuple[date, date],
    *,
    premiums: Frame | None = None,
    differentials: Frame | None = None,
    differential_rates: Mapping[str, DifferentialRate] | None = None,
) -> Pay:
    """Return the pay of all workweeks that begin from `weeks[0]` to `weeks[1]`.

    `classed` (CLASSED) and `owned` (OWNED) reach back to the first day of what is earned in them, so that earlier
    weeks can be reopened for the overtime on a later payment; `rules` bind the people of each site, and `laws` are
    what their jurisdictions say of pay; people of a site without rules are left out. Amounts are exact until
    a line is rounded, once, half up. Where a rate is missing or unclear the week's totals stay empty and a
    fault says why; nothing is guessed. Source: 29 CFR part 778, and what each record in `laws` cites.
    """
    binding, held = bind(people, rules, laws), held_rates(rates, people)
    paid = payments(earnings, binding, weeks, held.rates)
    time = work_time(time_needed(classed, paid, weeks), owned, binding.placed, held)
    table = table_of_weeks(time, paid, weeks, binding)
    parts = _in_weeks(time.parts, table)
    by_rate = _by_rate(parts, table, held)
    windows = _in_weeks(DIFFERENTIALS.empty() if differentials is None else differentials, table)
    settled = with_share(_in_weeks(paid.rename({"settles": "workweek"}), table), "workweek")
    earned = _earned(time, classed, by_rate, settled, windows, held, differential_rates or {})
    due = weeks_due(table, earned)
    asked = table.filter("asked")
    owed = _in_weeks(PREMIUMS.empty() if premiums is None else premiums, asked)
    every = pl.concat(
        [
            lines.earned_lines(earned),
            *lines.overtime_lines(table, due, earned),
            *lines.premium_lines(premiums_due(owed, binding.listed, time.parts, held.rates, due)),
            *lines.reopened_lines(reopened_weeks(table, paid.filter("is_deferred"), earned, due)),
        ]
    )
    every = every.join(asked, on="week", how="semi").sort("week", "place", maintain_order=True)
    found = [
        *faults.rate_faults(asked, parts, by_rate, held.faults),
        *faults.earning_faults(table, settled, windows, differential_rates or {}, earned),
    ]
    known = faults.payable(asked, found)
    short = short_of_minimum(table, parts, earned, binding.listed).take(known["week"].to_numpy())
    found += faults.below_minimum(known, short, binding.listed)
    regular = due.regular_rate.take(known["week"].to_numpy())
    totals = _totals(known, every).with_columns(regular_rate=regular.four_decimals(), minimum_due=short.cents())
    return Pay(
        PAY_WEEKS.frame(
            asked.join(totals, on="week", how="left", maintain_order="left").select(PAY_WEEKS.names).to_dict()
        ),
        faults.pay_faults(found, asked, binding.listed),
        (every, table, time.stretches, tuple(binding.listed)),
    )


def earliest_earned(earnings: Frame, weeks: tuple[date, date]) -> date:
    """Return the first day that hours are needed from, so that what is settled in `weeks` can reopen earlier ones."""
    last = weeks[1] + timedelta(days=6)
    settled = earnings.filter(earnings["earned_to"].is_between(weeks[0], last))
    days: list[date] = [weeks[0], *settled["earned_from"].to_list()]
    return min(days)


def _in_weeks(frame: Frame, table: Frame) -> Frame:
    """Return the rows of `frame` in weeks of the table, with the week's place and law, in their order."""
    return frame.join(
        table.select(*WEEK, "week", "law", "by_straight_hours", "salary_hours_s"), on=WEEK, maintain_order="left"
    )


def _by_rate(parts: Frame, table: Frame, held: HeldRates) -> Frame:
    """Return the time of each week under each rate, in order of first use, with what the rate is."""
    seconds = parts.filter(pl.col("rate").is_not_null()).group_by("week", "rate", maintain_order=True)
    used = seconds.agg(pl.col("person", "workweek", "salary_hours_s").first(), pl.col("worked_s").sum())
    terms = held.rates.drop("person").rename({"reader": "held_at"})
    return used.with_row_index("order").join(terms, on="rate", maintain_order="left")


def _earned(
    time: WorkTime,
    classed: Frame,
    by_rate: Frame,
    settled: Frame,
    windows: Frame,
    held: HeldRates,
    differential_rates: Mapping[str, DifferentialRate],
) -> Frame:
    """Return all entries, by week and in the order of its lines."""
    found = [*rate_entries(by_rate, time.stretches, classed, held.rates), *payment_entries(settled, by_rate)]
    if windows.height and differential_rates:
        within = time.stretches.join(windows, on=WEEK, how="semi", maintain_order="left")
        rated = within.join(
            time.parts.select(*WEEK, "day", "reader", "rate"), on=[*WEEK, "day", "reader"], maintain_order="left"
        )
        found.append(differential_entries(windows, rated, held.rates, differential_rates))
    return pl.concat(found).sort("week", "place", "order")


def _totals(known: Frame, every: Frame) -> Frame:
    """Return the sums of the lines of each week that can be paid."""
    in_parts = {name: pl.col("cents").filter(pl.col("part").is_in(parts)).sum() for name, parts in SUMS.items()}
    sums = known.select("week").join(
        every.group_by("week").agg(**in_parts), on="week", how="left", maintain_order="left"
    )
    money = [(pl.col(name).fill_null(0).cast(pl.Decimal(38, 4)) / 100).alias(name) for name in SUMS]
    return sums.with_columns(money)
