"""Clocks that run off: people who use two readers bring the same habits to both.

Each person's usual time for coming and for going is taken out with the same equations that part hands and readers,
so what is left at a reader, over all its people, is its clock.

Source: Henderson's equations as in `effects`; the habits of people as a clock: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.scores.effects.connected import groups_of
from evenhand.scores.effects.fit import fit_effects
from evenhand.scores.tables import READER_HEALTH
from evenhand.terms.columns import Frame

__all__ = ["ahead_of_file", "clock_offsets"]

Floats = npt.NDArray[np.float64]

DAY_S = 86_400
NEAR_S = 5400
"""Presentations farther than this from the person's usual time belong to another shift."""
OFTEN = 0.15
FEWEST = 30
NOTABLE_S = 60.0


def clock_offsets(presented: Frame, *, days: int = 7) -> Frame:
    """Return the clocks (READER_HEALTH) that disagree with those their people also use, over the last days.

    Needs `clock_s`. Offsets are against the middle of the readers joined by people who use two; a reader that
    nobody shares cannot be judged. A clock is named when it is off by more than a minute beyond doubt.
    """
    told = presented.filter(pl.col("clock_s").is_not_null(), ~pl.col("is_refused"))
    if not told.height:
        return READER_HEALTH.empty()
    last = told["day"].max()
    recent = told.filter(pl.col("day") > last - pl.duration(days=days))
    return READER_HEALTH.rows(_found(_habits(told, recent)))


def _habits(told: Frame, recent: Frame) -> Frame:
    """Each recent presentation's distance from its person's habit, an hour often used; the habit joins the name."""
    hour = (pl.col("clock_s") / 3600).round(0) % 24
    often = pl.col("len") >= OFTEN * pl.col("len").sum().over("person")
    usual = told.with_columns(hour=hour).group_by("person", "hour").len().filter(often, pl.col("len") >= 3)
    joined = recent.join(usual.select("person", "hour"), on="person")
    away = (pl.col("clock_s") - 3600 * pl.col("hour") + DAY_S // 2) % DAY_S - DAY_S // 2
    near = joined.with_columns(away=away.cast(pl.Float64)).filter(pl.col("away").abs() <= NEAR_S)
    nearest = near.sort(pl.col("away").abs()).unique("punch", keep="first", maintain_order=True)
    return nearest.with_columns(habit=pl.concat_str("person", pl.col("hour").cast(pl.String), separator=" ")).sort(
        "punch"
    )


def _found(habits: Frame) -> Iterator[dict[str, Any]]:
    if habits.height < FEWEST:
        return
    readers = habits["reader"].unique().sort().to_list()
    person = habits["habit"].rank("dense").to_numpy().astype(np.int64) - 1
    reader = habits["reader"].rank("dense").to_numpy().astype(np.int64) - 1
    people = int(person.max()) + 1
    effects = fit_effects(person, reader, habits["away"].to_numpy(), people, len(readers))
    cells = effects.cells
    labels, _ = groups_of(cells.person, cells.reader, people, len(readers))
    group = labels[people:]
    for i, name in enumerate(readers):
        others = np.flatnonzero((group == group[i]) & (np.arange(len(readers)) != i))
        if not len(others):
            continue
        off = float(effects.reader[i] - np.median(effects.reader[others]))
        error = float(np.hypot(effects.reader_error[i], np.median(effects.reader_error[others])))
        if abs(off) < NOTABLE_S + 2 * error:
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
