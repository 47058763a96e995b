"""A threshold that was moved half-way: from one day on, scores are accepted that were refused before, or the reverse.

It shows only where a reader writes the scores of refusals too. One threshold answers all presentations alike; where no
single one does, and two with a day between them do, it was moved on that day. Thresholds of each person's own do not
look so: no day puts them in order.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.scores.baselines import BaselineBreak
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told

__all__ = ["at_present_threshold", "find_moved_thresholds"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

FEWEST = 6
"""Answers that no single threshold explains, from which it is taken to have been moved. Common practice, no source."""
FEWEST_PEOPLE = 3
EXPLAINED = 0.8
STEPS = 256


@dataclass(frozen=True)
class _Split:
    """The answers two thresholds leave unexplained, `before` and after the split, and how many a single one does."""

    at: int
    before: float
    after: float
    unexplained: int
    by_one: int


def find_moved_thresholds(presented: Frame) -> list[BaselineBreak]:
    """Return the moves of thresholds in screened scores (PRESENTED), at most one a reader, by reader."""
    scored = presented.filter(pl.col("score").is_not_null())
    accepted, refused = (scored.filter(pl.col("is_refused") == answer).group_by("reader") for answer in (False, True))
    # where all that was refused lies above all that was accepted, one threshold explains everything
    mixed = (
        accepted.agg(most=pl.col("score").max())
        .join(refused.agg(least=pl.col("score").min()), on="reader")
        .filter(pl.col("least") <= pl.col("most"))
    )
    found = (_of_reader(str(name), scored.filter(pl.col("reader") == name).sort("day")) for name in mixed["reader"])
    return sorted((one for one in found if one is not None), key=lambda one: one.reader)


def _of_reader(reader: str, rows: Frame) -> BaselineBreak | None:
    days = rows["day"].unique().sort().to_list()
    day = rows["day"].replace_strict(days, list(range(len(days))), return_dtype=pl.Int64).to_numpy()
    score, refused = rows["score"].to_numpy(), rows["is_refused"].to_numpy()
    if len(days) < 2:
        return None
    split = _best_split(score, refused, day, len(days))
    if split.by_one < FEWEST or split.unexplained > (1 - EXPLAINED) * split.by_one:
        return None
    low, high = sorted((split.before, split.after))
    between = rows.filter(pl.col("score") > low, pl.col("score") <= high)
    for side in (pl.col("day") < days[split.at], pl.col("day") >= days[split.at]):
        if between.filter(side)["person"].n_unique() < FEWEST_PEOPLE:
            return None
    return _moved(reader, days[split.at], split, between["person"].n_unique())


def _moved(reader: str, day: date, split: _Split, people: int) -> BaselineBreak:
    says = told(
        "From {day} on, {reader} accepts scores up to about {after:.3g}; until then it was "
        "{before:.3g}: its threshold was moved. Start a new baseline that day; earlier answers are read as the "
        "threshold since then would have given them.",
        day=day,
        reader=reader,
        after=split.after,
        before=split.before,
    )
    return BaselineBreak(reader, day, "threshold", split.after / split.before if split.before else np.inf, people, says)


def _best_split(score: Floats, refused: npt.NDArray[np.bool_], day: Ints, days: int) -> _Split:
    """Try every day and, on either side of it, every threshold among STEPS that matter."""
    far = np.concatenate([score[refused], score[score >= np.quantile(score[~refused], 0.9)]])
    steps = np.unique(np.quantile(far, np.linspace(0, 1, STEPS), method="lower"))
    step = np.searchsorted(steps, score)
    counts = np.zeros((2, days, len(steps) + 1), dtype=np.int64)
    np.add.at(counts, (refused.astype(np.int64), day, step), 1)
    until = counts.cumsum(axis=1)
    everything = until[:, -1:]
    before, after = _unexplained(until[:, :-1]), _unexplained(everything - until[:, :-1])
    best = before.min(axis=1) + after.min(axis=1)
    at = int(np.argmin(best))
    return _Split(
        at + 1,
        _middle(steps, before[at]),
        _middle(steps, after[at]),
        int(best[at]),
        int(_unexplained(everything).min()),
    )


def _unexplained(counts: Ints) -> Ints:
    """Answers against each threshold: accepted above it, or refused at or below it (days, thresholds)."""
    accepted, refused = counts
    above = accepted.sum(axis=1, keepdims=True) - accepted.cumsum(axis=1)
    return np.asarray((above + refused.cumsum(axis=1))[:, :-1])


def _middle(steps: Floats, unexplained: Ints) -> float:
    """The middle of the thresholds that do equally well."""
    well = np.flatnonzero(unexplained == unexplained.min())
    return float((steps[well[0]] + steps[min(well[-1] + 1, len(steps) - 1)]) / 2)


def at_present_threshold(presented: Frame, moved: BaselineBreak) -> Frame:
    """Return the presentations with a reader's answers before its threshold moved as they would be since then.

    The threshold since then is taken to lie at the highest score accepted; refusals without a score stay as they are.
    """
    here = pl.col("reader") == moved.reader
    since = presented.filter(here, pl.col("day") >= moved.day, ~pl.col("is_refused"))
    highest = since["score"].max()
    earlier = here & (pl.col("day") < moved.day) & pl.col("score").is_not_null()
    return presented.with_columns(
        is_refused=pl.when(earlier).then(pl.col("score") > highest).otherwise(pl.col("is_refused"))
    )
