"""What a week's rates pay for its time: by the hour, by the day, or by a salary."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.pay.earned.entries import entries
from evenhand.pay.exact import UNITS
from evenhand.pay.rates.held import IN_THIRTEENTHS, SALARIES
from evenhand.pay.rates.holding import with_rate
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence

__all__ = ["hourly_label", "rate_entries"]

HOURLY, HOURLY_AT = sentence("hourly pay"), sentence("hourly pay at {reader}")
BY_DAY, SALARY = sentence("day or job rate"), sentence("salary")

PLACE = 0
DAYS = 7
OF_SECOND = 25


def rate_entries(by_rate: Frame, stretches: Frame, classed: Frame, held: Frame) -> Iterator[Frame]:
    """Yield what rates pay, without pieces and jobs, which are counted elsewhere.

    `by_rate`: week, order (of first use), person, workweek, salary_hours_s (PayLaw's), worked_s, straight_s, rate,
    and the columns of `held` beside it. `classed` (CLASSED) tells where the shifts of `stretches` (WorkTime's) begin.
    """
    yield _hourly(by_rate.filter(pl.col("plan") == "hourly"))
    if (days := by_rate.filter(pl.col("plan") == "day")).height:
        yield _by_day(days, stretches, classed, held)
    if (salaries := by_rate.filter(pl.col("plan").is_in(SALARIES))).height:
        yield _salaries(salaries, by_rate, held)


def hourly_label(reader: str) -> pl.Expr:
    """Return what hourly pay is called, by the reader that its rate is for ('' for all work)."""
    return (
        pl.when(pl.col(reader) != "").then(pl.format(HOURLY_AT.format(reader="{}"), reader)).otherwise(pl.lit(HOURLY))
    )


def _hourly(paid: Frame) -> Frame:
    """Straight pay at each rate. Source: 29 CFR 778.110(a); for several rates, 778.115."""
    amount = pl.col("amount").cast(pl.Int128) * pl.col("worked_s")
    return entries(
        paid,
        place=PLACE,
        order=pl.col("order"),
        kind="hourly",
        label=hourly_label("held_at"),
        seconds=pl.col("worked_s"),
        below=3600 * UNITS,
        amount=amount,
        in_rate=amount,
        rate=pl.col("amount"),
        rate_below=UNITS,
    )


def _by_day(paid: Frame, stretches: Frame, classed: Frame, held: Frame) -> Frame:
    """A sum for each civil day on which a shift begins, whatever its hours. Source: 29 CFR 778.112.

    The rate is that of the day's first work.
    """
    spans = classed.join(paid, on="person", how="semi").sort("person", "starts")
    begun = spans.filter((pl.col("shift") != pl.col("shift").shift(1).over("person")).fill_null(value=True))
    first = stretches.join(begun, on=["person", "starts"], how="semi", maintain_order="left")
    days = first.unique(["person", "workweek", "day"], keep="first", maintain_order=True)
    counted = with_rate(days.select("person", "workweek", "day", "reader"), held)
    counted = counted.group_by("person", "workweek", "rate").agg(days=pl.len())
    amount = pl.col("amount").cast(pl.Int128) * pl.col("days").fill_null(0)
    return entries(
        paid.join(counted, on=["person", "workweek", "rate"], how="left", maintain_order="left"),
        place=PLACE,
        order=pl.col("order"),
        kind="day",
        label=BY_DAY,
        below=UNITS,
        amount=amount,
        in_rate=amount,
        rate=pl.col("amount"),
        rate_below=UNITS,
    )


def _salaries(paid: Frame, by_rate: Frame, held: Frame) -> Frame:
    """A salary for the hours it covers, with straight pay for those beyond; or for whatever hours are worked.

    The latter is lawful only under all conditions of the rule, and not in every state: where the law says how many
    hours a salary pays for (`salary_hours_s`), it pays for no more of them and for no overtime, whatever was agreed, so
    each hour of overtime is owed its straight pay beside the salary, however short the week. Beside other rates a
    salary stands only as part of their weighted average. Source: 29 CFR 778.113(a), 778.114, 778.325; what the law's
    own record cites.
    """
    mixed = by_rate.group_by("week").agg(mixed=pl.len() > 1)
    shared = _shares(paid, held).join(mixed, on="week", maintain_order="left")
    by_law, is_fixed = pl.col("salary_hours_s") > 0, pl.col("plan") == "salary_fixed"
    for_hours = by_law | is_fixed
    # All in shares of a 25th of a second, in which a ten-thousandth of an hour is whole: nothing is cut.
    agreed = pl.when(is_fixed, pl.col("covers") > 0).then(pl.col("covers") * (3600 * OF_SECOND // UNITS))
    at_most = pl.when(by_law).then(pl.col("salary_hours_s") * OF_SECOND)
    covers = pl.min_horizontal(agreed, at_most).fill_null(0) * pl.col("part")
    shares = OF_SECOND * pl.col("parts")
    paid_by_it = pl.min_horizontal(pl.when(by_law).then("straight_s").otherwise("worked_s") * shares, covers)
    factor = pl.col("salary_for").replace_strict(IN_THIRTEENTHS, return_dtype=pl.Int128)
    shared = shared.with_columns(
        covers=pl.when(for_hours).then(covers).otherwise(1),
        beyond=pl.when(for_hours).then(pl.col("worked_s") * shares - paid_by_it).otherwise(0),
        weekly=pl.col("amount") * factor * pl.col("part"),
        weekly_below=13 * UNITS * pl.col("parts").cast(pl.Int128),
    )
    divides = for_hours & ~pl.col("mixed")
    amount = pl.col("weekly") * (pl.col("covers") + pl.col("beyond"))
    return entries(
        shared,
        place=PLACE,
        order=pl.col("order"),
        kind=pl.col("plan"),
        label=SALARY,
        below=pl.col("weekly_below") * pl.col("covers"),
        amount=amount,
        in_rate=pl.when("mixed").then(amount).otherwise(pl.col("weekly") * pl.col("covers")),
        rate=pl.col("weekly"),
        rate_below=pl.col("weekly_below"),
        spread=pl.when(divides).then("covers").otherwise(0),
        spread_below=pl.when(divides).then(shares).otherwise(1),
    )


def _shares(paid: Frame, held: Frame) -> Frame:
    """Add `part`: each salary's days of the week's seven (`parts`), where it begins or ends within it.

    Within the days of employment; work on other days alone is a day of it. Its hours are shared like its pay, so that
    those beyond them are paid beside it. That days are counted, and of all seven, is our reading.
    """
    days = pl.concat([pl.select(offset=pl.lit(offset)) for offset in range(7)])
    weeks = paid.select("week", "person", "workweek").unique("week")
    every = weeks.join(days, how="cross").select(
        "week", "person", day=pl.col("workweek") + pl.duration(days=pl.col("offset")), reader=pl.lit("")
    )
    holding = with_rate(every, held.with_columns(since="begins", until="stops")).filter(pl.col("rate").is_not_null())
    counted = holding.group_by("week", "rate").agg(part=pl.len().cast(pl.Int64))
    return paid.join(counted, on=["week", "rate"], how="left", maintain_order="left").with_columns(
        pl.col("part").fill_null(1), parts=pl.lit(DAYS, pl.Int64)
    )
