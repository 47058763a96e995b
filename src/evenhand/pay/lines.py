"""The lines of each week: each exact, rounded once to the cent, with the rule that it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
import polars as pl

from evenhand.pay.due.premiums import PremiumsDue
from evenhand.pay.due.regular_rate import Due, flat_bonuses
from evenhand.pay.due.reopened import Reopened
from evenhand.pay.exact import UNITS, Exact, rounded_half_up, whole
from evenhand.pay.worktime import WEEK
from evenhand.terms import payroll
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.wages import PAY_LINES

__all__ = [
    "BEYOND",
    "PREMIUM_ON_PAST",
    "earned_lines",
    "overtime_lines",
    "pay_lines",
    "premium_lines",
    "reopened_lines",
]

BEYOND = {
    "overtime": sentence("overtime, the half beyond straight pay"),
    "double": sentence("double time, the whole beyond straight pay"),
}
SO_FAR = sentence("overtime of the period's earlier weeks, at its regular rate up to this one")
CREDIT = sentence("less premiums already paid")
ON_FLAT = sentence("overtime on {what}, by the hours that are not overtime")
ON_PAST = sentence("overtime on {what}, week of {week}")
PREMIUM_ON_PAST = sentence("premium hours on {what}, week of {week}")
PREMIUMS = {
    "meal": sentence("premium for a meal period, {day}"),
    "rest": sentence("premium for rest periods, {day}"),
    "split_shift": sentence("premium for a split shift, {day}"),
    "reporting": sentence("reporting time, {day}"),
    "call_back": sentence("call-back time, {day}"),
}
BREAKS = ("meal", "rest")
NOT_BY_TIME = {
    "day": payroll.BY_DAY,
    "salary_fixed": payroll.BY_SALARY,
    "salary_fluctuating": payroll.BY_SALARY,
}
LINE = {
    "week": pl.UInt32,
    "place": pl.Int8,
    "part": pl.String,
    "kind": pl.String,
    "label": pl.String,
    "seconds": pl.Int64,
    "rate": pl.Decimal(18, 4),
    "cents": pl.Int128,
    "earned_in": pl.Date,
    "source": pl.String,
    "item": pl.String,
}
"""The columns of lines before they are written out: `week` is a place in the table of weeks, `place` that of the line's
group, `kind` what PayLaw cites, `source` a citation of the line's own; the rest as in PAY_LINES."""
STRAIGHT, EXCLUDED, OVERTIME, PREMIUM, REOPENED = range(5)


def earned_lines(earned: Frame) -> Frame:
    """Return the lines of what is paid for every hour once, then of what does not count in the rate."""
    counts = (pl.col("in_rate") != 0) | (pl.col("credit") != 0)
    rate = (2 * UNITS * pl.col("rate") + pl.col("rate_below")) // (2 * pl.col("rate_below"))
    return _lines(
        earned.filter(pl.col("amount") != 0),
        place=pl.when(counts).then(STRAIGHT).otherwise(EXCLUDED),
        part=pl.when(counts).then(pl.lit("straight")).otherwise(pl.lit("excluded")),
        item=pl.coalesce(
            "item", pl.col("kind").replace_strict({**payroll.EARNED_ITEMS, **NOT_BY_TIME}, default=payroll.BASE)
        ),
        rate=rate.cast(pl.Decimal(38, 4)) / UNITS,
        cents=rounded_half_up(pl.col("amount"), pl.col("below")),
    )


def overtime_lines(table: Frame, due: Due, earned: Frame) -> Iterator[Frame]:
    """Yield a line for each multiple, what the rate adds to earlier weeks of its period, credits, and flat bonuses.

    Of these bonuses, one for each that straight hours divide.
    """
    every = table.select("week")
    for kind, column, extra in (("overtime", "overtime_s", due.rate.times(1, 2)), ("double", "double_s", due.rate)):
        seconds = whole(table[column])
        rows = np.flatnonzero(seconds)
        if rows.size:
            owed = extra.take(rows).times(seconds[rows], 3600)
            yield _owed(every[rows], kind, BEYOND[kind], owed, seconds[rows], extra.take(rows))
    yield from _on_earlier_weeks(table, due)
    credit = due.of_week(due.credit.smaller(due.premium))
    rows = np.flatnonzero(credit.top)
    if rows.size:
        yield _owed(every[rows], "credit", CREDIT, credit.take(rows).times(-1))
    flats = flat_bonuses(earned, table)
    if flats.height:
        yield _flat_lines(flats, due)


def _on_earlier_weeks(table: Frame, due: Due) -> Iterator[Frame]:
    """Yield what the regular rate of a period up to a week makes of the overtime of its weeks before.

    With it all lines of the period up to there add up to its overtime, rounded once.
    """
    rows = np.flatnonzero(due.before >= 0)
    if not rows.size:
        return
    more, rate = due.of_week(due.premium).take(rows), due.rate.take(rows)
    for column, multiple in (("overtime_s", 2), ("double_s", 1)):
        own = rate.times(whole(table[column])[rows], 3600 * multiple)
        more -= Exact(np.array(own.rounded(100), dtype=np.object_), np.full(len(own), 100, np.object_))
    told = np.flatnonzero(more.top)
    if told.size:
        at = rows[told]
        yield _owed(table.select("week")[at], "rate_period", SO_FAR, more.take(told), due.beyond_s[due.before[at]])


def _flat_lines(flats: Frame, due: Due) -> Frame:
    weeks = flats["week"].to_numpy().astype(np.intp)
    per_hour = Exact(whole(flats["in_rate"]) * 3600, whole(flats["below"]) * due.straight_s[weeks])
    owed = per_hour.times(3 * due.overtime_s[weeks] + 4 * due.double_s[weeks], 2 * 3600)
    rows = np.flatnonzero(owed.top)
    flats = flats.with_columns(label=pl.format(ON_FLAT.format(what="{}"), "label"))[rows]
    beyond = due.beyond_s[weeks[rows]]
    return _owed(flats, "flat_bonus_overtime", flats["label"], owed.take(rows), beyond, per_hour.take(rows))


def premium_lines(premiums: PremiumsDue) -> Iterator[Frame]:
    """Yield a line for each premium hour owed, where there are any."""
    rows = premiums.rows
    if rows.is_empty():
        return
    seconds = rows["hours"].cast(pl.Decimal(18, 4)).to_physical().cast(pl.Int64) * 3600 // UNITS
    yield _lines(
        rows,
        place=PREMIUM,
        part="premium",
        kind=pl.when(pl.col("kind").is_in(BREAKS)).then(pl.lit("break_premium")).otherwise(pl.lit("premium_hours")),
        label=_of_day("kind", "workday"),
        seconds=seconds,
        rate=premiums.rate.four_decimals(),
        cents=premiums.amount.rounded(100),
        source=rows["cites"],
        item=pl.col("kind").replace_strict(payroll.PREMIUM_ITEMS),
    )


def _of_day(kind: str, day: str) -> pl.Expr:
    """Return what premium hours of each kind are called, with their workday."""
    named = {one: label.format(day="") for one, label in PREMIUMS.items()}
    return pl.col(kind).replace_strict(named, return_dtype=pl.String) + pl.col(day).cast(pl.String)


def reopened_lines(reopened: Reopened | None, kind: str = "reopened", label: str = ON_PAST) -> Iterator[Frame]:
    """Yield a line for each past week that owes something on its share of a payment, where there are any."""
    if reopened is None:
        return
    yield _lines(
        reopened.rows,
        place=REOPENED,
        part="reopened",
        kind=kind,
        item=payroll.REOPENED,
        label=pl.format(label.format(what="{}", week="{}"), "name", pl.col("earned_in").cast(pl.String)),
        seconds=pl.col("beyond_s"),
        cents=reopened.owed.rounded(100),
        earned_in=pl.col("earned_in"),
    )


def _owed(weeks: Frame, kind: str, label: Any, owed: Exact, seconds: Any = None, rate: Exact | None = None) -> Frame:
    return _lines(
        weeks,
        place=OVERTIME,
        part="overtime",
        kind=kind,
        label=label,
        seconds=None if seconds is None else list(seconds),
        rate=None if rate is None else rate.four_decimals(),
        cents=owed.rounded(100),
        item=payroll.OVERTIME_PREMIUM,
    )


def _lines(frame: Frame, **given: Any) -> Frame:
    """Return lines of these columns, expressions over `frame`, values or lists; those left out are its own, or null."""

    def column(name: str, dtype: Any) -> pl.Expr:
        value = given.get(name, pl.col(name) if name in frame.columns else None)
        if isinstance(value, list):
            value = pl.Series(value, dtype=dtype)
        return (value if isinstance(value, pl.Expr) else pl.lit(value)).cast(dtype).alias(name)

    return frame.select(column(name, dtype) for name, dtype in LINE.items())


def pay_lines(lines: Frame, weeks: Frame, stretches: Frame, laws: Sequence[PayLaw]) -> Frame:
    """Return PAY_LINES of these lines, which are in order: each with its place and its citations.

    `stretches` (WorkTime's) tell which rules of hours made the week's overtime and double time.
    """
    cited = lines.join(weeks.select("week", *WEEK, "law"), on="week", maintain_order="left")
    kinds = cited.select("law", "kind").unique()
    sources = [laws[law].source_of(kind) for law, kind in kinds.iter_rows()]
    beside = [laws[law].premium_cites or None if kind == "break_premium" else None for law, kind in kinds.iter_rows()]
    kinds = kinds.with_columns(cites=pl.Series(sources, dtype=pl.String), beside=pl.Series(beside, dtype=pl.String))
    cited = cited.join(kinds, on=["law", "kind"], maintain_order="left").join(
        _rules_cited(weeks, stretches, laws), on=["week", "kind"], how="left", maintain_order="left"
    )
    of_rules = pl.concat_str("rules", "cites", separator="; ", ignore_nulls=True)
    of_premium = pl.concat_str("source", "beside", separator="; ", ignore_nulls=True)
    return PAY_LINES.frame(
        cited.select(
            *WEEK,
            "part",
            "label",
            "seconds",
            "rate",
            "earned_in",
            "item",
            line=pl.int_range(1, pl.len() + 1).over("week"),
            amount=pl.col("cents").cast(pl.Decimal(38, 4)) / 100,
            cites=pl.when(pl.col("source").is_null()).then(of_rules).otherwise(of_premium),
        ).to_dict()
    )


def _rules_cited(weeks: Frame, stretches: Frame, laws: Sequence[PayLaw]) -> Frame:
    """Return the sources of the rules that made each week's time what it is: week, kind (the class), rules.

    Of what raises pay to the minimum wage (the kind `minimum_wage`), those of the wage on each day worked.
    """
    made = stretches.filter(pl.col("rule").is_not_null()).select(*WEEK, "rule", kind="pay_class")
    made = made.unique(maintain_order=True).join(weeks.select("week", *WEEK, "law"), on=WEEK, maintain_order="left")
    pairs = made.select("law", "rule").unique()
    sources = pl.Series([laws[law].rules[rule] for law, rule in pairs.iter_rows()], dtype=pl.List(pl.String))
    known = made.join(pairs.with_columns(rules=sources), on=["law", "rule"], maintain_order="left").explode("rules")
    known = pl.concat([known.select("week", "kind", "rules"), _wages_cited(weeks, stretches, laws)])
    return known.group_by("week", "kind").agg(pl.col("rules").unique(maintain_order=True).str.join("; "))


def _wages_cited(weeks: Frame, stretches: Frame, laws: Sequence[PayLaw]) -> Frame:
    """Return the sources of the minimum wage that binds on the days worked in each week: week, kind, rules."""
    days = stretches.select(*WEEK, "day").unique(maintain_order=True)
    worked = days.join(weeks.select("week", *WEEK, "law"), on=WEEK, maintain_order="left")
    pairs = worked.select("law", "day").unique()
    sources = pl.Series([laws[law].minimum_wage_source(day) for law, day in pairs.iter_rows()], dtype=pl.String)
    known = worked.join(pairs.with_columns(rules=sources), on=["law", "day"], maintain_order="left")
    return known.select("week", kind=pl.lit("minimum_wage"), rules="rules")
