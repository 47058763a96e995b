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
from evenhand.terms.languages import sentence
from evenhand.terms.words import as_duration

__all__ = ["WORKWEEK_MOVED", "Overlap", "overlap_steps"]

WORKWEEK_MOVED, CITES = "workweek_moved", "29 CFR 778.301, 778.302"
ALIKE = (
    sentence(
        "{time} lie in the workweeks of {old} and {new}, since the site's workweek moved; counted in that of {week}, "
        "both come to {here} overtime, as they would counted in that of {other}"
    ),
    sentence(
        "{time} lie in the workweeks of {old} and {new}, since the site's workweek moved; counted in that of {week}, "
        "both come to {here} overtime and {here_double} double time, as they would counted in that of {other}"
    ),
)
"""Without double time and with it."""
UNLIKE = {
    (False, False): sentence(
        "{time} lie in the workweeks of {old} and {new}, since the site's workweek moved; counted in that of {week}, "
        "both come to {here} overtime; in that of {other}, to {there} overtime"
    ),
    (True, False): sentence(
        "{time} lie in the workweeks of {old} and {new}, since the site's workweek moved; counted in that of {week}, "
        "both come to {here} overtime and {here_double} double time; in that of {other}, to {there} overtime"
    ),
    (False, True): sentence(
        "{time} lie in the workweeks of {old} and {new}, since the site's workweek moved; counted in that of {week}, "
        "both come to {here} overtime; in that of {other}, to {there} overtime and {there_double} double time"
    ),
    (True, True): sentence(
        "{time} lie in the workweeks of {old} and {new}, since the site's workweek moved; counted in that of {week}, "
        "both come to {here} overtime and {here_double} double time; in that of {other}, to {there} overtime and "
        "{there_double} double time"
    ),
}
"""By whether either holds double time."""


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
    return STEPS.rows(row for one in overlaps for row in _told(_within(classed, one, people), weeks, otherwise, one))


def _within(classed: Frame, one: Overlap, people: Sequence[str]) -> Frame:
    shares = (pl.col("starts") < one.ends) & (pl.col("ends") > one.starts)
    return (
        classed.filter(shares, pl.col("person").is_in(list(people)), pl.col("workweek").is_in([one.old, one.new]))
        .with_columns(pl.col("starts").clip(lower_bound=one.starts), pl.col("ends").clip(upper_bound=one.ends))
        .sort("person", "starts")
    )


def _told(spans: Frame, weeks: Frame, otherwise: Frame, one: Overlap) -> Iterator[dict[str, Any]]:
    """Yield the step for each person and each of the two workweeks that holds some of their `spans`."""
    paid, beside = (_made_of(frame, one) for frame in (weeks, otherwise))
    held = spans.group_by("person", "workweek", maintain_order=True).agg(
        lasts=(pl.col("ends") - pl.col("starts")).sum(),
        starts=pl.col("starts").min(),
        ends=pl.col("ends").max(),
        punch_a=pl.col("punch_in").first(),
    )
    for row in held.iter_rows(named=True):
        lasts, person, week = as_duration(row.pop("lasts")), row["person"], row["workweek"]
        other = one.new if week == one.old else one.old
        here, there = (made.get(person, (0, 0)) for made in (paid, beside))
        pattern = ALIKE[bool(here[1])] if here == there else UNLIKE[bool(here[1]), bool(there[1])]
        says = pattern.format(
            time=lasts,
            old=one.old,
            new=one.new,
            week=week,
            other=other,
            here=as_duration(here[0]),
            here_double=as_duration(here[1]),
            there=as_duration(there[0]),
            there_double=as_duration(there[1]),
        )
        yield row | {
            "rule": WORKWEEK_MOVED,
            "seconds": 0,
            "says": says,
            "cites": CITES,
        }


def _made_of(weeks: Frame, one: Overlap) -> dict[str, tuple[int, int]]:
    """Return the overtime and double time [s] of each person's two workweeks together."""
    both = weeks.filter(pl.col("workweek").is_in([one.old, one.new]))
    sums = both.group_by("person").agg(pl.col("overtime_s", "double_s").sum())
    return {person: (overtime, double) for person, overtime, double in sums.iter_rows()}
