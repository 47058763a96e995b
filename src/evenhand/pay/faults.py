"""What keeps a week from being paid, or from being paid as it is written down, in words."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import timedelta
from typing import Any

import numpy as np
import polars as pl

from evenhand.pay.due.regular_rate import PERIOD
from evenhand.pay.exact import Exact, whole
from evenhand.pay.worktime import WEEK
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.wages import PAY_FAULTS

__all__ = ["below_minimum", "earning_faults", "pay_faults", "payable", "period_faults", "rate_faults"]

FLUCTUATING = sentence("a salary for whatever hours are worked does not pay overtime here; {hours} hours divide it")
NO_RATE = sentence("no one rate of pay holds on {day}")
NO_RATES = sentence("no one rate of pay holds on {first} to {last}")
UNKNOWN = sentence("{what} from {day} has neither an amount nor a rate for its units; give one of them")
UNRATED = sentence('the differential "{name}" has no rate in the settings; give it one')
UNDIVIDED = sentence("a flat bonus needs hours that are not overtime to be divided by; this week has none")
IDLE = sentence(
    "{what} of {amount} is earned in the week of {week}, in which nobody recorded hours; correct its days, or add the "
    "hours"
)
OF_PERIOD = sentence(
    "the regular rate is that of the {days} days from {first} on, and what the week of {week} pays is not known"
)
SHORT = sentence("pay for {week} is {amount} short of {wage} for every hour worked, and raised by that")
FAULT: dict[str, Any] = {
    "week": pl.UInt32,
    "kind": pl.String,
    "seconds": pl.Int64,
    "amount": pl.Decimal(18, 4),
    "says": pl.String,
    "cited": pl.String,
    "cites": pl.String,
    "lacks": pl.String,
}
"""The columns of faults before they are written out: `cited` is the kind that PayLaw cites, where `cites` is not given;
the rest as in PAY_FAULTS."""


def rate_faults(weeks: Frame, parts: Frame, by_rate: Frame, found: Frame) -> Iterator[Frame]:
    """Yield what is missing or unclear about the rates of each week's time.

    `found` is what is wrong with the rates themselves (HeldRates); `parts` have their week, and so has `by_rate`.
    """
    worked = weeks.filter(pl.col("worked_s") > 0)
    within = (pl.col("since") <= pl.col("workweek") + timedelta(days=6)) & (pl.col("until") >= pl.col("workweek"))
    wrong = worked.join(found, on="person", maintain_order="left_right").filter(within)
    if wrong.height:
        yield _faults(wrong, kind="faulty", seconds=pl.col("worked_s"), says=pl.col("says"))
    without = parts.filter(pl.col("rate").is_null())
    if without.height:
        yield _without_rate(without)
    fluctuating = by_rate.filter(pl.col("plan") == "salary_fluctuating", pl.col("salary_hours_s") > 0)
    if fluctuating.height:
        of_weeks = weeks.join(fluctuating, on="week", how="semi")
        hours = pl.Series([f"{seconds / 3600:g}" for seconds in of_weeks["salary_hours_s"]], dtype=pl.String)
        says = pl.format(FLUCTUATING.format(hours="{}"), hours)
        worked_s, cited = pl.col("worked_s"), pl.lit("salary_fluctuating")
        yield _faults(of_weeks, kind="faulty", seconds=worked_s, says=says, cited=cited)


def _without_rate(parts: Frame) -> Frame:
    first, last = (pl.col("day").min().cast(pl.String), pl.col("day").max().cast(pl.String))
    weeks = parts.group_by("week").agg(pl.col("worked_s").sum(), first=first, last=last)
    says = (
        pl.when(pl.col("first") == pl.col("last"))
        .then(pl.format(NO_RATE.format(day="{}"), "first"))
        .otherwise(pl.format(NO_RATES.format(first="{}", last="{}"), "first", "last"))
    )
    return _faults(weeks, kind="missing", seconds=pl.col("worked_s"), says=says, lacks=pl.lit("rate"))


def earning_faults(
    weeks: Frame, settled: Frame, windows: Frame, rated: Collection[str], earned: Frame
) -> Iterator[Frame]:
    """Yield what is missing about what was earned beside the hours, and which of it no hours stand against.

    `settled` are payments and `windows` differentials with their week; `rated` are the kinds of differentials that
    the settings give a rate.
    """
    unknown = settled.filter(pl.col("amount").is_null()).sort("payment")
    if unknown.height:
        says = pl.format(UNKNOWN.format(what="{}", day="{}"), "name", pl.col("first").cast(pl.String))
        yield _faults(unknown, kind="missing", says=says)
    unrated = windows.filter(~pl.col("kind").is_in(list(rated)))
    if unrated.height:
        kinds = unrated.select("week", "kind").unique().sort("week", "kind")
        lacks = pl.format("differential/{}", "kind")
        yield _faults(kinds, kind="missing", says=pl.format(UNRATED.format(name="{}"), "kind"), lacks=lacks)
    straight = weeks["straight_s"].gather(earned["week"]) > 0
    so_far = weeks.select(pl.col("worked_s").cum_sum().over(PERIOD)).to_series()
    worked = so_far.gather(earned["week"]) > 0
    idle = earned.filter(~worked).filter(pl.col("in_rate") != 0)
    if idle.height:
        yield _idle(idle.join(weeks.select("week", "workweek"), on="week", maintain_order="left"))
    undivided = earned.filter(worked & ~straight & earned["is_flat"])
    if undivided.height:
        of_weeks = weeks.join(undivided, on="week", how="semi")
        worked_s, cited = pl.col("worked_s"), pl.lit("flat_bonus_overtime")
        yield _faults(of_weeks, kind="faulty", seconds=worked_s, says=pl.lit(UNDIVIDED), cited=cited)


def _idle(earned: Frame) -> Frame:
    amount = Exact(whole(earned["in_rate"]), whole(earned["below"])).cents()
    says = IDLE.format(what="{}", amount="{}", week="{}")
    worded = pl.format(says, "label", _two_decimals(amount), pl.col("workweek").cast(pl.String))
    return _faults(earned, kind="faulty", amount=pl.lit(amount), says=worded, cited=pl.lit("regular_rate"))


def period_faults(weeks: Frame, found: Sequence[Frame]) -> Iterator[Frame]:
    """Yield the weeks whose regular rate rests on an earlier one of their period of which something is missing."""
    missing = [faults.filter(pl.col("kind") == "missing").select("week") for faults in found]
    without = weeks.join(pl.concat([weeks.select("week").clear(), *missing]).unique(), on="week", how="semi")
    first = without.group_by(PERIOD).agg(unknown=pl.col("workweek").min())
    rests = weeks.join(first, on=PERIOD, maintain_order="left").filter(pl.col("workweek") > pl.col("unknown"))
    if rests.height:
        says = OF_PERIOD.format(days="{}", first="{}", week="{}")
        begins = pl.col("period").cast(pl.String)
        worded = pl.format(says, "period_days", begins, pl.col("unknown").cast(pl.String))
        yield _faults(rests, kind="missing", seconds=pl.col("worked_s"), says=worded, cited=pl.lit("rate_period"))


def payable(weeks: Frame, found: Sequence[Frame]) -> Frame:
    """Return the weeks in which nothing that decides their pay is missing."""
    missing = [faults.filter(pl.col("kind") == "missing").select("week") for faults in found]
    return weeks.join(pl.concat(missing), on="week", how="anti", maintain_order="left") if missing else weeks


def below_minimum(weeks: Frame, short: Exact, laws: Sequence[PayLaw]) -> Iterator[Frame]:
    """Yield the weeks whose rates or pay are `short` of the minimum wage by a cent or more; it is paid beside them."""
    rows = np.flatnonzero(short.rounded(100))
    if not rows.size:
        return
    under, amount = weeks[rows], short.take(rows).cents()
    bound = [(laws[law], day) for law, day in under.select("law", "workweek").iter_rows()]
    says = SHORT.format(week="{}", amount="{}", wage="{}")
    wages = pl.Series([f"{float(law.minimum_wage(day)[0]):.2f}" for law, day in bound], dtype=pl.String)
    worded = pl.format(says, pl.col("workweek").cast(pl.String), _two_decimals(amount), wages)
    sources = [law.minimum_wage_source(day) for law, day in bound]
    cites = pl.lit(pl.Series(sources, dtype=pl.String))
    worked = pl.col("worked_s")
    yield _faults(under, kind="below_minimum", seconds=worked, amount=pl.lit(amount), says=worded, cites=cites)


def pay_faults(found: Sequence[Frame], weeks: Frame, laws: Sequence[PayLaw]) -> Frame:
    """Return PAY_FAULTS of these weeks, by week, in the order in which they were found."""
    if not found:
        return PAY_FAULTS.empty()
    asked = weeks.select("week", *WEEK, "law")
    every = pl.concat(found).join(asked, on="week", maintain_order="left").sort("week", maintain_order=True)
    kinds = every.select("law", "cited").unique()
    sources = [laws[law].source_of(cited) if cited else None for law, cited in kinds.iter_rows()]
    kinds = kinds.with_columns(source=pl.Series(sources, dtype=pl.String))
    every = every.join(kinds, on=["law", "cited"], how="left", nulls_equal=True, maintain_order="left")
    every = every.with_columns(cites=pl.coalesce("cites", "source"))
    return PAY_FAULTS.frame(every.select(PAY_FAULTS.names).to_dict())


def _faults(frame: Frame, *, kind: str, says: pl.Expr, **given: pl.Expr) -> Frame:
    columns = {"week": pl.col("week"), "kind": pl.lit(kind), "says": says, "seconds": pl.lit(0), **given}
    return frame.select(columns.get(name, pl.lit(None)).cast(dtype).alias(name) for name, dtype in FAULT.items())


def _two_decimals(amounts: pl.Series) -> pl.Series:
    return pl.Series([f"{amount:.2f}" for amount in amounts], dtype=pl.String)
