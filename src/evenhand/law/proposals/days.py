"""People's days as rows of punches: those that are whole, and those that something is open in.

Source: common practice, no source. A day is what lies between two rests: punches that work joins, or gaps clearly
shorter than the person's usual rest.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.law.codes import IN, OUT, UNMARKED
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy
from evenhand.terms.zones import Offsets

__all__ = ["MOST_PUNCHES_A_DAY", "Column", "Days", "days_of"]

MOST_PUNCHES_A_DAY = 10
"""Punches of a day that are looked at; a day with more resembles nothing."""

HOUR_S = 3600
SHORTER_S = 2 * HOUR_S
"""A gap this much shorter than the person's rests is none, even where a punch in it is missing."""

REST_S = 12 * HOUR_S
"""How long somebody rests whose rests are not known."""

Column = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Days:
    """Days by person and time; punches stand in rows as long as the longest, zeros behind the last of `count`.

    `person` counts people. `at` are instants, `civil` the same on the clock [s], `way` marks (codes.UNMARKED, IN, OUT),
    `punch` stored punches.
    `planned` are the scheduled start and end on the clock, 0 where there is none.
    """

    person: Column
    count: Column
    at: Column
    civil: Column
    way: Column
    punch: Column
    planned: Column

    @property
    def width(self) -> int:
        """Return how many punches a row has room for."""
        return int(self.at.shape[1])

    def is_whole(self) -> npt.NDArray[np.bool_]:
        """Tell which days go in and out by turns and end out."""
        turn = np.where(np.arange(self.width) % 2 == 0, IN, OUT)
        agrees = (self.way == UNMARKED) | (self.way == turn)
        whole: npt.NDArray[np.bool_] = (self.count % 2 == 0) & (self.count <= self.width) & agrees.all(axis=1)
        return whole


def days_of(attributed: Frame, classed: Frame, schedules: Frame, local: Offsets, policy: Policy) -> Days:
    """Return the days of everybody in `attributed` (ATTRIBUTED), paired as `classed` (CLASSED) says."""
    punches = _punches(attributed, classed, policy).with_row_index("row")
    firsts = punches.filter("begins")
    first = firsts["row"].to_numpy().astype(np.int64)
    count = np.diff(np.append(first, punches.height))
    places = np.arange(min(MOST_PUNCHES_A_DAY, int(count.max())))
    place = np.minimum(first[:, None] + places, punches.height - 1)
    there = count[:, None] > places

    def rows(column: npt.NDArray[np.int64]) -> Column:
        return np.where(there, column[place], 0)

    at = punches["at"].to_numpy()
    last = at[first + count - 1]
    return Days(
        person=firsts["person"].rle_id().to_numpy().astype(np.int64),
        count=count,
        at=rows(at),
        civil=rows(local.to_local(at)),
        way=rows(punches["way"].to_numpy()),
        punch=rows(punches["punch"].to_numpy()),
        planned=_planned(firsts.select("person", "at").with_columns(last=pl.Series(last)), schedules, local),
    )


def _punches(attributed: Frame, classed: Frame, policy: Policy) -> Frame:
    """Return punches (person, punch, at, way) by person and time, without repeats, and whether a day begins there."""
    ways = {"in": IN, "out": OUT}
    way = pl.col("direction").replace_strict(ways, default=UNMARKED, return_dtype=pl.Int64)
    told = attributed.select("person", "punch", "at", way=way).sort("person", "at", "punch")
    same = (pl.col("person") == pl.col("person").shift(1)).fill_null(value=False)
    apart = pl.col("at") - pl.col("at").shift(1)
    agrees = (pl.col("way") == pl.col("way").shift(1)) | (pl.min_horizontal("way", pl.col("way").shift(1)) == UNMARKED)
    once = told.filter(~(same & agrees & (apart < policy.repeat_gap_s)).fill_null(value=False))
    works = pl.col("punch").is_in(classed["punch_in"].unique().implode())
    gaps = once.with_columns(same=same, apart=pl.when(same & ~works.shift(1)).then(apart))
    rests = gaps.filter(pl.col("apart").is_between(policy.shift_gap_s, policy.longest_span_s + 6 * HOUR_S))
    usual = rests.group_by("person").agg(rest=pl.col("apart").quantile(0.1))
    longest = (pl.col("rest").fill_null(REST_S) - SHORTER_S).clip(policy.shift_gap_s, policy.longest_span_s)
    joined = gaps.join(usual, on="person", how="left", maintain_order="left")
    return joined.select(
        "person", "punch", "at", "way", begins=~pl.col("same") | (pl.col("apart") > longest).fill_null(value=False)
    )


def _planned(days: Frame, schedules: Frame, local: Offsets) -> Column:
    """Return the scheduled start and end of each day, of whichever shift has a bound nearest to one of its ends."""
    planned = np.zeros((days.height, 2), np.int64)
    if schedules.is_empty() or days.is_empty():
        return planned
    plans = schedules.select("person", "starts_at", "ends_at")
    asked = days.with_row_index("day")
    nearest = []
    for at, bound in (("at", "starts_at"), ("last", "ends_at")):
        left, right = asked.sort(at), plans.sort(bound)
        beside = left.join_asof(
            right, left_on=at, right_on=bound, by="person", strategy="nearest", coalesce=False, check_sortedness=False
        )
        nearest.append(beside.select("day", "starts_at", "ends_at", apart=(pl.col(at) - pl.col(bound)).abs()))
    best = pl.concat(nearest).filter(pl.col("apart") <= 4 * HOUR_S).sort("apart").unique("day", keep="first")
    for place, bound in enumerate(("starts_at", "ends_at")):
        planned[best["day"].to_numpy(), place] = local.to_local(best[bound].to_numpy())
    return planned
