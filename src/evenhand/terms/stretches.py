"""Stretches of work that punches form, whoever made them, and the minutes of pay behind them while that is not settled.

An estimate, always called one, and the same wherever it is shown. The workplace's own policy decides what is a repeat,
how long somebody may be in without a punch, how long a break ends a shift, and which breaks are paid.
Source: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy

__all__ = ["HALF_SHIFT_S", "minutes_in_doubt", "minutes_of", "stretches"]

HALF_SHIFT_S = 4 * 3600
"""What a punch without its other half stands for where nobody's habits are known: half a day."""

IN, OUT = 1, -1


def stretches(punches: Frame, by: Sequence[str], policy: Policy) -> Frame:
    """Return `punches` (at, direction and the columns `by`) by `by` and time, each with its stretch of work.

    Added are `stretch` (a running number), `turn` (likewise, the same for a punch and its repeats) and `way`
    (1 in, -1 out; where a log does not say, by turns, beginning with in). A stretch ends where somebody is in for
    longer than `longest_span_s` or out for longer than `shift_gap_s`.
    """
    mark = pl.col("direction").replace_strict({"in": IN, "out": OUT}, default=None, return_dtype=pl.Int64)
    apart = pl.col("at") - pl.when(_same_as_before(by)).then(pl.col("at").shift(1))
    marked = punches.sort(*by, "at", "punch").with_columns(mark=mark, apart=apart)
    alike = (pl.col("mark") == pl.col("mark").shift(1)).fill_null(value=True)
    is_repeat = ((pl.col("apart") < policy.repeat_gap_s) & alike).fill_null(value=False)
    beyond = pl.col("apart").is_null() | (pl.col("apart") > policy.longest_span_s)
    numbered = marked.with_columns(turn=(~is_repeat).cum_sum().cast(pl.Int64), run=beyond.cum_sum())
    ways = numbered.with_columns(mark=pl.col("mark").drop_nulls().first().over("turn")).with_columns(way=_by_turns())
    ended = (pl.col("way").shift(1) == OUT) & (pl.col("apart") > policy.shift_gap_s)
    stretch = (beyond | ended).cum_sum().cast(pl.Int64)
    return ways.with_columns(stretch=stretch).drop("mark", "apart", "run")


def minutes_in_doubt(punches: Frame, by: Sequence[str], policy: Policy) -> Frame:
    """Return the columns `by` with `minutes`, the pay that the punches of each group would make: an estimate [min]."""
    return minutes_of(stretches(punches, by, policy), by, policy)


def minutes_of(parted: Frame, by: Sequence[str], policy: Policy) -> Frame:
    """Return the same from punches that `stretches` has parted, by columns that part no stretch.

    A stretch counts from each way in to the way out, and breaks too short for a meal; a way in or out at its end that
    has no other half counts half a day. Where several all go the same way it counts from the first to the last. None
    counts more than `longest_span_s`.
    """
    until = pl.when(pl.col("stretch").shift(-1) == pl.col("stretch")).then(pl.col("at").shift(-1) - pl.col("at"))
    is_paid = (pl.col("way") == IN) | (pl.col("until") < policy.meal_s)
    each = (
        parted.with_columns(until=until)
        .with_columns(paid_s=pl.when(is_paid).then("until"))
        .group_by(*by, "stretch")
        .agg(
            pl.col("paid_s").sum(),
            reach_s=pl.col("at").max() - pl.col("at").min(),
            open=(pl.col("way").first() == OUT).cast(pl.Int64) + (pl.col("way").last() == IN).cast(pl.Int64),
            one_way=pl.col("way").min() == pl.col("way").max(),
            turns=pl.col("turn").max() - pl.col("turn").min() + 1,
        )
    )
    tells_nothing = pl.col("one_way") & (pl.col("turns") > 1)
    whole_s = pl.when(tells_nothing).then("reach_s").otherwise(pl.col("paid_s") + pl.col("open") * HALF_SHIFT_S)
    seconds = pl.min_horizontal(whole_s, pl.lit(policy.longest_span_s)).sum()
    return each.group_by(by).agg(minutes=(seconds / 60).round().cast(pl.Int64)).sort(by)


def _same_as_before(by: Sequence[str]) -> pl.Expr:
    return pl.all_horizontal(pl.col(name).eq_missing(pl.col(name).shift(1)) for name in by) & (
        pl.int_range(pl.len()) > 0
    )


def _by_turns() -> pl.Expr:
    """The way of each turn: as it is marked, else by turns from the last marked one, else from in."""
    known = pl.col("mark").is_not_null()
    of_run = {"last": pl.col("mark").forward_fill(), "at": pl.when(known).then("turn").forward_fill()}
    last, at = (value.over("run") for value in of_run.values())
    turns = pl.col("turn") - pl.coalesce(at, pl.col("turn").first().over("run"))
    return pl.coalesce(last, pl.lit(IN)) * (1 - 2 * (turns % 2))
