"""Clocks that run off: people who use two readers bring the same habits to both.

Each person's usual time for coming and for going is taken out with the same equations that divide hands and readers,
so what is left at a reader, over all its people, is its clock.

Source: Henderson's equations as in `effects`; the variance of pairs by moments (Henderson 1953, Biometrics 9:226-252,
method 3, from memory); the habits of people as a clock: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.scores.coding import codes_of
from evenhand.scores.effects.absorbed import Ratios, solve
from evenhand.scores.effects.cells import ScoreCells, lay_out, runs, stable_order
from evenhand.scores.effects.connected import sharing_groups
from evenhand.scores.readers.logs import Logs
from evenhand.scores.tables import READER_HEALTH
from evenhand.terms.columns import Frame
from evenhand.terms.zones import DAY_S

__all__ = ["ahead_of_file", "clock_offsets"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]

LATE_DAYS, DAYS = 7, 35
MOST = 150_000
"""Presentations from which clocks are told well enough; of more, every so-manieth person is asked."""
PAUSE_S = 4500
"""Times of day farther apart than this, with none between, are two habits."""
REACH_S = 1200
FREE = 20.0
FEWEST = 30
FEWEST_SHARED = 3
SHARED = 0.1
NOTABLE_S = 60.0
AHEAD_S = 300
"""How far a log may be ahead of the moment it was taken [s]: clocks of readers and computers differ by as much."""


@dataclass(frozen=True)
class _Habits:
    """Presentations (rows,) with the habit each belongs to, how far it is from its hour [s], and where it was when.

    `unit` counts each reader twice, before and of late.
    """

    habit: Ints
    unit: Ints
    away: Floats


def clock_offsets(logs: Logs) -> Frame:
    """Return the clocks (READER_HEALTH) that disagree with those their people also use, over the last seven days.

    A clock is judged by the same people at other readers in the same days: that they come earlier than they used to is
    their own doing, and no clock's. Offsets are against the middle of the others that are joined by people who use
    two. A clock is named when it is off by more than a minute beyond doubt.
    """
    if not len(logs.day) or logs.presented["clock_s"].null_count():
        return READER_HEALTH.empty()
    last = int(logs.day.max())
    rows = np.flatnonzero((logs.day > last - DAYS) & ~logs.is_refused)
    person = codes_of(logs.presented["person"][rows])[0]
    asked = (person >= 0) & (person % max(-(-len(rows) // MOST), 1) == 0)
    rows, person = rows[asked], person[asked]
    if len(rows) < FEWEST:
        return READER_HEALTH.empty()
    habits = _habits(logs, rows, person, logs.day[rows] > last - LATE_DAYS)
    return READER_HEALTH.rows(_found(logs.readers, habits))


def _habits(logs: Logs, rows: Ints, person: npt.NDArray[np.int32], is_late: Flags) -> _Habits:
    """Each presentation's distance from the hour of its person's habit: times of one direction without long pause.

    Of late a person may keep other hours, so those of late are habits of their own. The day is opened at the person's
    longest pause, so that nights stay whole.
    """
    direction = logs.presented["direction"][rows]
    leaves, comes = ((direction == way).fill_null(value=False).to_numpy() for way in ("out", "in"))
    way = 6 * person.astype(np.int64) + 2 * (comes + 2 * leaves) + is_late
    clock = logs.presented["clock_s"].to_numpy()[rows]
    order = stable_order(way * DAY_S + clock)
    way, clock = way[order], clock[order]
    starts = runs(way)
    lengths = np.diff(starts, append=len(way))
    pause = np.diff(clock, prepend=0)
    pause[starts] = clock[starts] + DAY_S - clock[starts + lengths - 1]
    longest = np.repeat(np.maximum.reduceat(pause, starts), lengths)
    opens = np.minimum.reduceat(np.where(pause == longest, clock, DAY_S), starts)
    turned = (clock - np.repeat(opens, lengths)) % DAY_S
    again = stable_order(way * DAY_S + turned)
    order, way, turned = order[again], way[again], turned[again]
    begins = np.flatnonzero(np.r_[True, (way[1:] != way[:-1]) | (np.diff(turned) > PAUSE_S)])
    lengths = np.diff(begins, append=len(way))
    middle = (turned[begins + (lengths - 1) // 2] + turned[begins + lengths // 2]) / 2
    # the hour, not the habit's own middle: that would hide an offset that all of a habit's presentations share
    hour = np.rint(middle / 3600) * 3600
    reader = np.searchsorted(logs.starts, rows[order], side="right") - 1
    return _Habits(
        habit=np.repeat(np.arange(len(begins)), lengths),
        unit=2 * reader + is_late[order],
        away=turned - np.repeat(hour, lengths),
    )


def _found(readers: list[str], habits: _Habits) -> Iterator[dict[str, Any]]:
    units, unit = 2 * len(readers), habits.unit
    pairs = lay_out(habits.habit, unit, int(habits.habit.max()) + 1, units)
    group = sharing_groups(pairs.person, pairs.reader, pairs.people, units, fewest=FEWEST_SHARED, share=SHARED)
    # somebody's odd day at another site joins nothing: there the person counts as another
    habit = np.unique(habits.habit * (int(group.max()) + 1) + group[unit], return_inverse=True)[1].astype(np.int64)
    effect, covariance = _unit_effects(habit, unit, habits.away, units)
    seen = np.bincount(unit, minlength=units) > 0
    for i, name in enumerate(readers):
        late = 2 * i + 1
        joined = np.flatnonzero(seen & (group == group[late]))
        if not seen[late] or len(np.unique(joined // 2)) < 2:
            continue
        others = joined[joined != late]
        # of two others the one whose clock is off would move the middle of them, of all three it does not
        middle = np.median(effect[others if len(others) > 2 else joined])
        off = float(effect[late] - middle)
        contrast = np.zeros(len(effect))
        contrast[others] = -1 / len(others)
        contrast[late] = 1
        error = float(np.sqrt(contrast @ covariance @ contrast))
        if abs(off) >= NOTABLE_S + 3 * error:
            yield {
                "reader": name,
                "kind": "clock",
                "size": off,
                "low": off - 1.96 * error,
                "high": off + 1.96 * error,
            }


def _unit_effects(habit: Ints, unit: Ints, away: Floats, units: int) -> tuple[Floats, Floats]:
    """Return what each unit adds to its people's times, and the covariance: by comparison within habits alone.

    Habits are given next to no prior, since people of two sites may keep other hours; pairs keep theirs, so that
    people are counted and not presentations.
    """
    layout = lay_out(habit, unit, int(habit.max()) + 1, units)
    away = layout.sort(away)
    middle = layout.cells(away).mean[layout.cell]
    cells = layout.cells(np.clip(away, middle - REACH_S, middle + REACH_S))
    noise = cells.within / max(len(away) - len(cells.count), 1) or 1.0
    ratios = Ratios(FREE, FREE, _pair_ratio(cells, noise))
    solved = solve(cells, ratios)
    assert solved.inverse is not None
    return solved.reader, noise * FREE**2 * solved.inverse[1:, 1:]


def _pair_ratio(cells: ScoreCells, noise: float) -> float:
    """How much pairs differ, in units of single times: from what habits and units leave of the pairs' means."""
    alike = replace(cells, count=np.ones(len(cells.count)), within=0.0)
    solved = solve(alike, Ratios(FREE, FREE), with_inverse=False)
    rest = cells.mean - solved.mean - solved.person[cells.person] - solved.reader[cells.reader]
    groups = int(cells.people + cells.readers)
    freedom = len(cells.count) - groups
    if freedom < 1:
        return 0.0
    variance = float(np.square(rest).sum()) / freedom - noise * float(np.mean(1 / cells.count))
    return float(np.sqrt(max(variance, 0.0) / noise))


def ahead_of_file(logs: Logs, as_of: int) -> Frame:
    """Return the clocks (READER_HEALTH) whose log holds presentations later than the moment its file was taken in.

    Where that is not known, later than `as_of`. Five minutes are allowed.
    """
    taken = logs.presented["taken_at"].fill_null(as_of).to_numpy()
    ahead = logs.at - np.minimum(taken, as_of)
    rows = logs.presented.select("reader", "number", "at")[np.flatnonzero(ahead > AHEAD_S)]
    later = (
        rows.with_columns(pl.Series("ahead", ahead[ahead > AHEAD_S]), pl.col("reader").cast(pl.String))
        .group_by("reader")
        .agg(
            size=pl.col("ahead").max(),
            since=pl.col("at").min(),
            until=pl.col("at").max(),
            count=pl.len(),
            people=pl.col("number").n_unique(),
        )
        .sort("reader")
    )
    return READER_HEALTH.rows({**row, "kind": "file_ahead"} for row in later.iter_rows(named=True))
