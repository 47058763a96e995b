"""Whether scores are what they should be: none negative, not all the same, not on another scale half-way.

What cannot be used is set aside and said; nothing is dropped in silence.
"""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl

from evenhand.scores.baselines import BaselineBreak, find_scale_breaks
from evenhand.scores.coding import code_names
from evenhand.scores.moved_threshold import at_present_threshold, find_moved_thresholds
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence, told

__all__ = ["DataIssue", "Screened", "screen_scores"]

FEWEST = 30
MOSTLY = 0.98
FEWEST_ZEROS = 10
LEAST = 0.01
"""The share of scores above 0 below which the lowest lie: where 0 begins to be apart."""
STEPS_APART = 3
"""Steps of the reader's own scale from which zeros are apart: below, a small score is rounded to 0. Common practice."""

NO_REFUSALS = sentence("{reader} writes no refusals: how many it refuses and where its threshold lies cannot be known.")
NO_REFUSALS_BUT_SCORES = sentence(
    "{reader} writes no refusals: how many it refuses and where its threshold lies cannot be known, and its scores "
    "look closer and steadier than they are, since the far ones are missing."
)


@dataclass(frozen=True)
class DataIssue:
    """One thing about a reader's scores, or about all of them, and what it means for what can be known."""

    code: str
    reader: str | None
    count: int
    says: str


@dataclass(frozen=True)
class Screened:
    """The presentations with unusable scores emptied and old scales and thresholds left behind.

    With the issues and the breaks.
    """

    presented: Frame
    issues: tuple[DataIssue, ...]
    breaks: tuple[BaselineBreak, ...]


def screen_scores(presented: Frame) -> Screened:
    """Return the presentations (PRESENTED) with only sound scores left, and what was wrong with the others.

    Negative scores, zeros apart from all other scores and scores of a reader that always writes the same are emptied.
    Before a break of scale the scores are emptied too: the new baseline starts there. Answers given before a threshold
    was moved become what they would be since then. Every presentation stays.
    """
    presented = code_names(presented)
    kept, issues = _usable(presented)
    breaks = find_scale_breaks(kept)
    for found in breaks:
        before = (pl.col("reader") == found.reader) & (pl.col("day") < found.day)
        kept = kept.with_columns(score=pl.when(~before).then(pl.col("score")))
        count = presented.filter(before, pl.col("score").is_not_null()).height
        issues.append(DataIssue("scale_break", found.reader, count, found.says))
    moved = find_moved_thresholds(kept)
    for found in moved:
        restated = at_present_threshold(kept, found)
        count = int((restated["is_refused"] != kept["is_refused"]).sum())
        issues.append(DataIssue("threshold_moved", found.reader, count, found.says))
        kept = restated
    return Screened(kept, tuple(issues), (*breaks, *moved))


def _usable(presented: Frame) -> tuple[Frame, list[DataIssue]]:
    """Empty negative and constant scores, and say so and what is missing."""
    issues: list[DataIssue] = []
    negative = presented.filter(pl.col("score") < 0)
    for reader, count in _by_reader(negative):
        says = told(
            "{reader} wrote {count:,} negative scores; a dissimilarity is 0 or more. They are left out; a value such "
            "as -1 often stands for no score.",
            reader=reader,
            count=count,
        )
        issues.append(DataIssue("negative_scores", reader, count, says))
    kept = presented
    if negative.height:
        kept = presented.with_columns(score=pl.when(pl.col("score") >= 0).then(pl.col("score")))
    for reader, count, least in _zeros_apart(kept):
        says = told(
            "{reader} wrote {count:,} scores of 0, apart from all its others, which begin about {least:.2g}: no hand "
            "is exactly like its reference. They are left out.",
            reader=reader,
            count=count,
            least=least,
        )
        issues.append(DataIssue("zero_scores", reader, count, says))
        kept = kept.with_columns(
            score=pl.when((pl.col("reader") != reader) | (pl.col("score") > 0)).then(pl.col("score"))
        )
    constant = _constant(kept)
    for reader, value, count in constant:
        says = told(
            "{reader} wrote {value:g} as nearly every one of {count:,} scores; they tell nothing and are left out.",
            reader=reader,
            value=value,
            count=count,
        )
        issues.append(DataIssue("constant_scores", reader, count, says))
    same = [reader for reader, _, _ in constant]
    if same:
        kept = kept.with_columns(score=pl.when(~pl.col("reader").is_in(same)).then(pl.col("score")))
    issues.extend(_what_is_missing(kept, same))
    return kept, issues


def _zeros_apart(frame: Frame) -> list[tuple[str, int, float]]:
    """Readers with zeros that no rounding made, how many, and where their other scores, which are most, begin."""
    zeros = frame.filter(pl.col("score") == 0).group_by("reader").len("zeros").filter(pl.col("zeros") >= FEWEST_ZEROS)
    above = frame.filter(pl.col("score") > 0).join(zeros, on="reader", how="semi").group_by("reader")
    told = above.agg(
        others=pl.len(),
        least=pl.col("score").quantile(LEAST),
        step=pl.col("score").unique().sort().diff().min(),
    )
    apart = told.join(zeros, on="reader").filter(
        pl.col("others") > pl.col("zeros"), pl.col("least") > STEPS_APART * pl.col("step")
    )
    named = apart.with_columns(pl.col("reader").cast(pl.String), pl.col("zeros").cast(pl.Int64)).sort("reader")
    return named.select("reader", "zeros", "least").rows()


def _by_reader(frame: Frame) -> list[tuple[str, int]]:
    return frame.group_by("reader").len().sort("reader").rows()


def _constant(frame: Frame) -> list[tuple[str, float, int]]:
    """Readers that write one score nearly always, with it; a value that makes up more than half is the median."""
    same = (pl.col("score") == pl.col("score").median()).sum()
    scored = frame.group_by("reader").agg(
        most=pl.col("score").median(), same=same, scores=pl.col("score").count().cast(pl.Int64)
    )
    constant = scored.filter(pl.col("scores") >= FEWEST, pl.col("same") >= MOSTLY * pl.col("scores"))
    return (
        constant.with_columns(pl.col("reader").cast(pl.String)).sort("reader").select("reader", "most", "scores").rows()
    )


def _what_is_missing(frame: Frame, said: list[str]) -> list[DataIssue]:
    """Say of each reader what its log leaves out, and what therefore cannot be known."""
    by_reader = frame.group_by("reader").agg(
        presentations=pl.len(),
        scores=pl.col("score").is_not_null().sum(),
        refusals=pl.col("is_refused").sum(),
        refused_scores=(pl.col("score").is_not_null() & pl.col("is_refused")).sum(),
    )
    issues = []
    for row in by_reader.sort("reader").iter_rows(named=True):
        reader, count = row["reader"], row["presentations"]
        if row["scores"] == 0 and reader not in said:
            says = told(
                "{reader} writes no scores: how far hands lie from the threshold, whether they drift, and who will be "
                "refused soon cannot be known there.",
                reader=reader,
            )
            issues.append(DataIssue("no_scores", reader, count, says))
        if row["refusals"] == 0 and count >= FEWEST:
            why = NO_REFUSALS_BUT_SCORES if row["scores"] else NO_REFUSALS
            issues.append(DataIssue("no_refusals", reader, count, told(why, reader=reader)))
        elif row["scores"] and row["refusals"] and row["refused_scores"] == 0:
            says = told(
                "{reader} writes refusals without their scores: they count as above its threshold, and a failure to "
                "acquire cannot be told from a non-match.",
                reader=reader,
            )
            issues.append(DataIssue("refused_scores_missing", reader, row["refusals"], says))
    return issues
