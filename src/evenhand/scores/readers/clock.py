"""Clocks that run off: people who use two readers bring the same habits to both.

Each person's usual time for coming and for going is taken out with the same equations that part hands and readers,
so what is left at a reader, over all its people, is its clock.

Source: Henderson's equations as in `effects`; the habits of people as a clock: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.scores.effects.absorbed import solve
from evenhand.scores.effects.cells import lay_out
from evenhand.scores.effects.connected import sharing_groups
from evenhand.scores.effects.variances import estimate_ratios
from evenhand.scores.tables import READER_HEALTH
from evenhand.terms.columns import Frame

__all__ = ["ahead_of_file", "clock_offsets"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

DAY_S = 86_400
PAUSE_S = 4500
"""Times of day farther apart than this, with none between, are two habits."""
REACH_S = 1200
FREE = 20.0
FEWEST = 30
FEWEST_SHARED = 3
SHARED = 0.1
NOTABLE_S = 60.0


def clock_offsets(presented: Frame, *, days: int = 7) -> Frame:
    """Return the clocks (READER_HEALTH) that disagree with those their people also use, over the last days.

    Needs `clock_s`, and `direction` where it is known. Each reader is taken twice, of late and before, so that a
    clock that has run off stands out against its own past as well. Offsets are against the middle of all that are
    joined by people who use two. A clock is named when it is off by more than a minute beyond doubt.
    """
    told = presented.filter(pl.col("clock_s").is_not_null(), ~pl.col("is_refused"))
    if told.height < FEWEST:
        return READER_HEALTH.empty()
    last = told["day"].max()
    assert isinstance(last, date)
    habits = _habits(told).with_columns(is_late=pl.col("day") > last - timedelta(days=days))
    return READER_HEALTH.rows(_found(habits))


def _habits(told: Frame) -> Frame:
    """Each presentation's distance from the hour of its person's habit: times of one direction without long pause.

    The day is opened at the person's longest pause, so that nights stay whole.
    """
    way = ["person", "direction"]
    opened = (
        told.sort(*way, "clock_s")
        .with_columns(pause=(pl.col("clock_s") - pl.col("clock_s").shift(1).over(way)))
        .with_columns(
            pause=pl.col("pause").fill_null(
                pl.col("clock_s").first().over(way) + DAY_S - pl.col("clock_s").last().over(way)
            )
        )
        .with_columns(
            opens=pl.col("clock_s").sort_by("pause", descending=True).first().over(way),
        )
        .with_columns(turned=(pl.col("clock_s") - pl.col("opens")) % DAY_S)
        .sort(*way, "turned")
    )
    habit = (pl.col("turned").diff().over(way).fill_null(0) > PAUSE_S).cum_sum().over(way)
    named = opened.with_columns(
        habit=pl.concat_str("person", pl.col("direction").fill_null(""), habit.cast(pl.String), separator=" ")
    )
    # the hour, not the habit's own middle: that would hide an offset that all of a habit's presentations share
    hour = (pl.col("turned").median().over("habit") / 3600).round(0) * 3600
    return named.with_columns(away=pl.col("turned").cast(pl.Float64) - hour)


def _found(habits: Frame) -> Iterator[dict[str, Any]]:
    readers = habits["reader"].unique().sort().to_list()
    person = habits["habit"].rank("dense").to_numpy().astype(np.int64) - 1
    reader = habits["reader"].rank("dense").to_numpy().astype(np.int64) - 1
    unit = 2 * reader + habits["is_late"].to_numpy()
    people = int(person.max()) + 1
    pairs = lay_out(person, unit, people, 2 * len(readers))
    group = sharing_groups(pairs.person, pairs.reader, people, 2 * len(readers), fewest=FEWEST_SHARED, share=SHARED)
    # somebody's odd day at another site joins nothing: there the person counts as another
    habit = np.unique(person * (int(group.max()) + 1) + group[unit], return_inverse=True)[1].astype(np.int64)
    effect, covariance = _unit_effects(habit, unit, habits["away"].to_numpy(), int(habit.max()) + 1, 2 * len(readers))
    seen = np.bincount(unit, minlength=2 * len(readers)) > 0
    for i, name in enumerate(readers):
        late = 2 * i + 1
        joined = np.flatnonzero(seen & (group == group[late]))
        if not seen[late] or len(np.unique(joined // 2)) < 2:
            continue
        off = float(effect[late] - np.median(effect[joined]))
        contrast = np.zeros(len(effect))
        contrast[joined] -= 1 / len(joined)
        contrast[late] += 1
        error = float(np.sqrt(contrast @ covariance @ contrast))
        if abs(off) < NOTABLE_S + 3 * error:
            continue
        way = "ahead of" if off > 0 else "behind"
        yield {
            "reader": name,
            "kind": "clock",
            "size": off,
            "low": off - 1.96 * error,
            "high": off + 1.96 * error,
            "says": f"{name}'s clock runs about {_span(abs(off))} {way} the other readers its people use.",
            "proposal": "Compare it with a radio or telephone clock and set it; correct the hours it touched.",
        }


def _unit_effects(person: Ints, unit: Ints, away: Floats, people: int, units: int) -> tuple[Floats, Floats]:
    """Return what each unit adds to its people's times, and the covariance: by comparison within habits alone.

    Habits are given next to no prior, since people of two sites may keep other hours; pairs keep theirs, so that
    people are counted and not presentations.
    """
    layout = lay_out(person, unit, people, units)
    away = layout.sort(away)
    middle = layout.cells(away).mean[layout.cell]
    cells = layout.cells(np.clip(away, middle - REACH_S, middle + REACH_S))
    ratios, noise, _ = estimate_ratios(cells, precision=1e-2)
    free = replace(ratios, person=FREE, reader=FREE)
    solved = solve(cells, free)
    assert solved.inverse is not None
    return solved.reader, noise * FREE**2 * solved.inverse[1:, 1:]


def _span(seconds: float) -> str:
    return f"{seconds / 60:.0f} min" if seconds >= 90 else f"{seconds:.0f} s"


def ahead_of_file(recorded: Frame, taken_at: dict[int, int]) -> Frame:
    """Return the clocks (READER_HEALTH) whose log holds presentations later than the moment its file was taken in.

    `recorded` has `take`, `reader` and `at`; `taken_at` gives each take's instant.
    """
    later = (
        recorded.with_columns(taken=pl.col("take").replace_strict(taken_at, default=None, return_dtype=pl.Int64))
        .filter(pl.col("at") > pl.col("taken"))
        .group_by("reader")
        .agg(ahead=(pl.col("at") - pl.col("taken")).max(), since=pl.col("at").min())
        .sort("reader")
    )
    return READER_HEALTH.rows(
        {
            "reader": row["reader"],
            "kind": "file_ahead",
            "since": row["since"],
            "size": float(row["ahead"]),
            "says": f"{row['reader']} wrote presentations up to {_span(row['ahead'])} later than its file was taken "
            "in: its clock is ahead by at least that.",
            "proposal": "Compare its clock, its date and its time zone, and set them.",
        }
        for row in later.iter_rows(named=True)
    )
