"""Tell which hours lie in two workweeks, where the site's workweek moved, and what each of the two makes of them.

Source: 29 CFR 778.301 and 778.302: such hours are counted in the one workweek, then in the other, and the person gets
the better of the two.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.hours import STEPS
from evenhand.terms.words import as_duration

__all__ = ["WORKWEEK_MOVED", "Overlap", "overlap_steps"]

WORKWEEK_MOVED, CITES = "workweek_moved", "29 CFR 778.301, 778.302"


@dataclass(frozen=True)
class Overlap:
    """The instants from `starts` to `ends` lie in the last `old` workweek and in the first `new` one."""

    old: date
    new: date
    starts: int
    ends: int


def overlap_steps(
    classed: Frame, weeks: Frame, otherwise: Frame, overlaps: Sequence[Overlap], people: Sequence[str]
) -> Frame:
    """Return a step (STEPS) per person and overlap that holds paid time of theirs; no time is added or taken by it.

    `classed` and `weeks` are as the hours are paid, `otherwise` the weeks with those hours in the other workweek.
    """
    rows = [
        row
        for one in overlaps
        for spans in _within(classed, one, people).partition_by("person", maintain_order=True)
        for row in _told(spans, weeks, otherwise, one)
    ]
    return STEPS.rows(rows)


def _within(classed: Frame, one: Overlap, people: Sequence[str]) -> Frame:
    shares = (pl.col("starts") < one.ends) & (pl.col("ends") > one.starts)
    return (
        classed.filter(shares, pl.col("person").is_in(list(people)), pl.col("workweek").is_in([one.old, one.new]))
        .with_columns(pl.col("starts").clip(lower_bound=one.starts), pl.col("ends").clip(upper_bound=one.ends))
        .sort("person", "starts")
    )


def _told(spans: Frame, weeks: Frame, otherwise: Frame, one: Overlap) -> Iterator[dict[str, Any]]:
    """Yield the step for each of the two workweeks that holds some of one person's `spans`."""
    person = spans["person"][0]
    here, there = (_made_of(frame, person, one) for frame in (weeks, otherwise))
    for week in spans["workweek"].unique(maintain_order=True):
        mine = spans.filter(pl.col("workweek") == week)
        other = one.new if week == one.old else one.old
        lasts = as_duration(int((mine["ends"] - mine["starts"]).sum()))
        yield {
            "person": person,
            "workweek": week,
            "rule": WORKWEEK_MOVED,
            "starts": mine["starts"].min(),
            "ends": mine["ends"].max(),
            "seconds": 0,
            "punch_a": mine["punch_in"][0],
            "says": f"{lasts} lie in the workweeks of {one.old} and {one.new}, since the site's workweek "
            f"moved; counted in that of {week}, both come to {here}"
            + (f", as they would counted in that of {other}" if here == there else f"; in that of {other}, to {there}"),
            "cites": CITES,
        }


def _made_of(weeks: Frame, person: str, one: Overlap) -> str:
    """Return the overtime and double time of a person's two workweeks together, in words."""
    both = weeks.filter(pl.col("person") == person, pl.col("workweek").is_in([one.old, one.new]))
    overtime, double = int(both["overtime_s"].sum()), int(both["double_s"].sum())
    return f"{as_duration(overtime)} overtime" + (f" and {as_duration(double)} double time" if double else "")
