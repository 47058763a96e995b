"""Pay of everybody's workweeks: lines with citations, totals, and what keeps a week from being paid.

Order of work: straight pay at each rate; what was earned beside the hours; what raises it to the minimum wage; the
regular rate; the overtime and double time owed on it, less credits; premium hours; what a payment for a longer time
reopens. Each is one pass over the weeks of everybody.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

import numpy as np
import polars as pl

from evenhand.pay import faults, lines
from evenhand.pay.due.minimum_wage import raise_entries, short_of_minimum
from evenhand.pay.due.on_earnings import due_on_earnings
from evenhand.pay.due.premiums import premiums_due
from evenhand.pay.due.regular_rate import Due, weeks_due
from evenhand.pay.due.reopened import reopened_premiums, reopened_weeks
from evenhand.pay.earned.by_rate import rate_entries
from evenhand.pay.earned.differentials import DifferentialRate, differential_entries, differential_time
from evenhand.pay.earned.payments import payment_entries
from evenhand.pay.weeks import PayableWeeks, weeks_to_pay
from evenhand.pay.worktime import WEEK, WorkTime
from evenhand.terms.columns import Frame
from evenhand.terms.hours import DIFFERENTIALS, PREMIUMS
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.payroll import BASE, EARNED_ITEMS
from evenhand.terms.settings import SiteRules
from evenhand.terms.wages import PAY_ITEMS, PAY_WEEKS

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
    """Frames PAY_WEEKS, PAY_ITEMS and PAY_FAULTS; PAY_LINES are written out when they are first asked for.

    `on_earnings` (PAY_ITEMS) is what of `items` rests on earnings beside the hours (`due_on_earnings`). `time` is the
    paid time they rest on, and `held` are the rates that its parts name (HeldRates).
    """

    weeks: Frame
    items: Frame
    on_earnings: Frame
    faults: Frame
    time: WorkTime
    held: Frame
    _lines: tuple[Frame, Frame, tuple[PayLaw, ...]]

    @cached_property
    def lines(self) -> Frame:
        """Return PAY_LINES."""
        every, table, laws = self._lines
        written = lines.pay_lines(every, table, self.time.stretches, laws)
        # What rests on a rate that is missing would be nought, or too little: it is not known.
        unknown = self.weeks.filter(pl.col("total_pay").is_null()).select(*WEEK, is_unknown=True)
        rests = pl.col("is_unknown").fill_null(value=False) & pl.col("part").is_in(["overtime", "premium", "reopened"])
        marked = written.join(unknown, on=WEEK, how="left", maintain_order="left")
        return marked.with_columns(pl.when(~rests).then(name).alias(name) for name in ("rate", "amount")).drop(
            "is_unknown"
        )


def compute_pay(
    classed: Frame,
    attributed: Frame,
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

    `classed` (CLASSED) and `attributed` (ATTRIBUTED) reach back to the first day of what is earned in them, so that
    earlier weeks can be reopened for the overtime on a later payment, and there and here to where the law's
    regular-rate period begins; `rules` bind the people of each site; `laws` are
    what their jurisdictions say of pay; people of a site without rules are left out. Amounts are exact until
    a line is rounded, once, half up. Where a rate is missing or unclear the week's totals stay empty and a
    fault says why; nothing is guessed. Source: 29 CFR part 778, and what each record in `laws` cites.
    """
    on = weeks_to_pay(classed, attributed, people, rates, earnings, rules, laws, weeks)
    windows = on.within(DIFFERENTIALS.empty() if differentials is None else differentials)
    owed = on.within(PREMIUMS.empty() if premiums is None else premiums)
    added = differential_time(windows, on.time.rated_within(windows), on.held.rates, differential_rates or {})
    earned = _earned(on, classed, added)
    found = [
        *faults.rate_faults(on.asked, on.parts, on.by_rate, on.held.faults),
        *faults.earning_faults(on.table, on.settled, windows, differential_rates or {}, earned),
    ]
    found += faults.period_faults(on.table, found)
    known, listed = faults.payable(on.asked, found), on.binding.listed
    every_short = short_of_minimum(on.table, on.parts, earned, on.held.rates, listed)
    sure = faults.payable(on.table, found)["week"].to_numpy().astype(np.intp)
    earned = pl.concat([earned, raise_entries(on.table, every_short, sure)]).sort("week", "place", "order")
    due = weeks_due(on.table, earned)
    every = _lines(on, earned, due, owed, added)
    short = every_short.take(known["week"].to_numpy())
    found += faults.below_minimum(known, short, listed)
    regular = due.regular_rate.take(known["week"].to_numpy())
    totals = _totals(known, every).with_columns(regular_rate=regular.four_decimals(), minimum_due=short.cents())
    return Pay(
        PAY_WEEKS.frame(
            on.asked.join(totals, on="week", how="left", maintain_order="left").select(PAY_WEEKS.names).to_dict()
        ),
        _items(on, known, every),
        _on_earnings(on, known, earned, due, owed),
        faults.pay_faults(found, on.asked, listed),
        on.time,
        on.held.rates,
        (every, on.table, tuple(listed)),
    )


def earliest_earned(earnings: Frame, weeks: tuple[date, date]) -> date:
    """Return the first day that hours are needed from, so that what is settled in `weeks` can reopen earlier ones."""
    last = weeks[1] + timedelta(days=6)
    settled = earnings.filter(earnings["earned_to"].is_between(weeks[0], last))
    days: list[date] = [weeks[0], *settled["earned_from"].to_list()]
    return min(days)


def _earned(on: PayableWeeks, classed: Frame, differentials: Frame) -> Frame:
    """Return all entries, by week and in the order of its lines; `differentials` are the time of them."""
    held, stretches = on.held.rates, on.time.stretches
    found = [*rate_entries(on.by_rate, stretches, classed, held), *payment_entries(on.settled, on.by_rate)]
    if differentials.height:
        found.append(differential_entries(differentials))
    return pl.concat(found).sort("week", "place", "order")


def _lines(on: PayableWeeks, earned: Frame, due: Due, owed: Frame, added: Frame) -> Frame:
    """Return the lines of all weeks asked for, in order.

    `owed` are premium hours with their week, `added` the time of differentials.
    """
    deferred, splits = on.paid.filter("is_deferred"), owed.filter(pl.col("kind") == "split_shift")
    rated = on.time.rated_within(splits)
    every = pl.concat(
        [
            lines.earned_lines(earned),
            *lines.overtime_lines(on.table, due, earned),
            *lines.premium_lines(premiums_due(owed, on.binding, rated, on.held.rates, due, added)),
            *lines.reopened_lines(reopened_weeks(on.table, deferred, earned, due)),
            *lines.reopened_lines(
                reopened_premiums(on.table, deferred, owed, due), "reopened_premium", lines.PREMIUM_ON_PAST
            ),
        ]
    )
    return every.join(on.asked, on="week", how="semi").sort("week", "place", maintain_order=True)


def _totals(known: Frame, every: Frame) -> Frame:
    """Return the sums of the lines of each week that can be paid."""
    in_parts = {name: pl.col("cents").filter(pl.col("part").is_in(parts)).sum() for name, parts in SUMS.items()}
    sums = known.select("week").join(
        every.group_by("week").agg(**in_parts), on="week", how="left", maintain_order="left"
    )
    money = [(pl.col(name).fill_null(0).cast(pl.Decimal(38, 4)) / 100).alias(name) for name in SUMS]
    return sums.with_columns(money)


def _items(on: PayableWeeks, known: Frame, every: Frame) -> Frame:
    """Return PAY_ITEMS of the weeks asked for; where a week's pay is not known, only sums earned beside its hours are.

    Pieces and jobs whose rate is missing are owed too: their amount is not known.
    """
    by_rate = pl.when(pl.col("item") == BASE).then("rate").alias("rate")
    sums = every.group_by("week", "item", by_rate, maintain_order=True).agg(pl.col("cents").sum())
    is_known = pl.col("week").is_in(known["week"].implode()) | pl.col("item").is_in(list(EARNED_ITEMS.values()))
    amount = pl.when(is_known).then(pl.col("cents").cast(pl.Decimal(38, 4)) / 100)
    sums = sums.with_columns(amount=amount)
    unrated = on.settled.filter(pl.col("amount").is_null()).join(on.asked, on="week", how="semi")
    unrated = unrated.select("week", item=pl.col("kind").replace_strict(EARNED_ITEMS)).unique(maintain_order=True)
    sums = pl.concat(
        [sums.join(unrated, on=["week", "item"], how="anti", maintain_order="left"), unrated], how="diagonal"
    )
    named = sums.join(on.asked.select("week", *WEEK), on="week", maintain_order="left")
    return PAY_ITEMS.frame(named.select(PAY_ITEMS.names).to_dict())


def _on_earnings(on: PayableWeeks, known: Frame, earned: Frame, due: Due, owed: Frame) -> Frame:
    """Return PAY_ITEMS of what rests on earnings beside the hours; not known where a piece has no rate."""
    unknown = on.settled.filter(pl.col("amount").is_null())["week"]
    cents = pl.when(~pl.col("week").is_in(unknown.implode())).then("cents")
    parts = due_on_earnings(on.table, known, earned, due, owed).join(
        on.asked.select("week", *WEEK), on="week", maintain_order="left"
    )
    amount = cents.cast(pl.Decimal(38, 4)) / 100
    named = parts.with_columns(rate=pl.lit(None, dtype=pl.Decimal(18, 4)), amount=amount)
    return PAY_ITEMS.frame(named.select(PAY_ITEMS.names).to_dict())
