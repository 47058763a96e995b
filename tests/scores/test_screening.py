"""Scores that cannot be right are set aside and said; a new scale is a new baseline."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import numpy as np
import polars as pl
import pytest

from evenhand.scores import find_moved_thresholds, find_scale_breaks, screen_scores
from tests.scores.invented import FIRST, log

DAY = FIRST + timedelta(days=22)


def issues(frame: pl.DataFrame) -> dict[str, str]:
    return {issue.code: issue.says for issue in screen_scores(frame).issues}


def test_a_sound_log_has_no_issue() -> None:
    frame = log(np.random.default_rng(1))
    screened = screen_scores(frame)
    assert screened.issues == ()
    by_reader = frame.sort("reader", "at", "punch").with_columns(pl.col("person", "reader").cast(pl.String))
    assert screened.presented.with_columns(pl.col("person", "reader").cast(pl.String)).equals(by_reader)


def test_negative_scores_are_left_out_and_counted() -> None:
    frame = log(np.random.default_rng(1))
    minus = (pl.col("reader") == "R0") & (pl.col("punch") % 5 == 0)
    frame = frame.with_columns(score=pl.when(minus).then(-1.0).otherwise("score"))
    screened = screen_scores(frame)
    count = frame.filter(minus).height
    (issue,) = screened.issues
    assert (issue.code, issue.reader, issue.count) == ("negative_scores", "R0", count)
    assert screened.presented["score"].null_count() == count
    assert screened.presented.height == frame.height


def test_zeros_apart_from_all_other_scores_are_left_out_and_counted_but_not_those_that_rounding_made() -> None:
    frame = log(np.random.default_rng(1))
    some = (pl.col("reader") == "R0") & (pl.col("punch") % 20 == 0) & ~pl.col("is_refused")
    zeros = frame.with_columns(score=pl.when(some).then(0.0).otherwise("score"))
    screened = screen_scores(zeros)
    (issue,) = screened.issues
    assert (issue.code, issue.reader, issue.count) == ("zero_scores", "R0", frame.filter(some).height)
    assert "wrote" in issue.says
    assert screened.presented["score"].null_count() == frame.filter(some).height
    assert screened.presented.height == frame.height
    coarse = frame.with_columns((pl.col("score") / 40).floor() * 40)
    assert coarse.filter(pl.col("score") == 0).height > 100
    assert "zero_scores" not in issues(coarse)


def test_a_reader_that_always_writes_the_same_tells_nothing() -> None:
    frame = log(np.random.default_rng(1))
    frame = frame.with_columns(score=pl.when(pl.col("reader") == "R1").then(50.0).otherwise("score"))
    assert "R1 wrote 50 as nearly every one of" in issues(frame)["constant_scores"]


def test_what_a_log_leaves_out_cannot_be_known() -> None:
    frame = log(np.random.default_rng(1))
    without = frame.with_columns(score=pl.lit(None, pl.Float64))
    assert "cannot be known" in issues(without)["no_scores"]
    accepted = frame.filter(~pl.col("is_refused"))
    assert "its scores look closer and steadier than they are" in issues(accepted)["no_refusals"]
    unscored = frame.with_columns(score=pl.when(~pl.col("is_refused")).then("score"))
    assert "a failure to acquire cannot be told from a non-match" in issues(unscored)["refused_scores_missing"]


def test_another_scale_half_way_is_a_break_and_a_new_baseline() -> None:
    frame = log(np.random.default_rng(2))
    new = (pl.col("reader") == "R2") & (pl.col("day") >= DAY)
    frame = frame.with_columns(score=pl.when(new).then(pl.col("score") * 6).otherwise("score"))
    screened = screen_scores(frame)
    (found,) = screened.breaks
    assert (found.reader, found.day) == ("R2", DAY)
    assert 5.5 < found.factor < 6.5
    assert "Start a new baseline" in found.says
    old = screened.presented.filter(pl.col("reader") == "R2", pl.col("day") < DAY)
    assert old["score"].null_count() == old.height
    assert old["is_refused"].null_count() == 0


def test_dirt_that_gathers_and_one_changed_hand_are_no_break() -> None:
    rng = np.random.default_rng(3)
    gathering = log(rng, shift=lambda p, r, d: 0.05 * max(d - 15, 0) if r == 1 else 0.0)
    assert find_scale_breaks(gathering) == []
    one_hand = log(rng, shift=lambda p, r, d: 2.0 if p == 3 and d >= 20 else 0.0)
    assert find_scale_breaks(one_hand) == []


def moved_on(day: Any, after: float, reader: str = "R1", before: float = 18.0) -> pl.DataFrame:
    """A log whose reader answers by one threshold until a day and by another from then on; all scores are written."""
    limit = pl.when((pl.col("reader") == reader) & (pl.col("day") >= day)).then(after).otherwise(before)
    frame = log(np.random.default_rng(4), spread=0.6, days=44)
    return frame.with_columns(is_refused=pl.col("score") > limit)


@pytest.mark.parametrize("after", [12.0, 26.0])
def test_a_moved_threshold_is_a_break_and_a_new_baseline(after: float) -> None:
    screened = screen_scores(moved_on(DAY, after))
    (found,) = screened.breaks
    assert (found.reader, found.kind) == ("R1", "threshold")
    assert abs((found.day - DAY).days) <= 1
    assert found.factor == pytest.approx(after / 18, rel=0.1)
    assert "its threshold was moved" in found.says
    assert {issue.code for issue in screened.issues} == {"threshold_moved"}
    # answers of before are as the threshold since then would have given them, and no score is lost
    here = screened.presented.filter(pl.col("reader") == "R1")
    accepted = here.filter(~pl.col("is_refused"))["score"].max()
    refused = here.filter("is_refused")["score"].min()
    assert accepted < refused
    assert accepted == pytest.approx(after, rel=0.15)
    assert screened.presented["score"].null_count() == 0


def test_where_refused_scores_are_not_written_a_moved_threshold_cannot_be_told() -> None:
    frame = moved_on(DAY, 26.0).with_columns(score=pl.when(~pl.col("is_refused")).then("score"))
    assert find_moved_thresholds(frame) == []


def test_thresholds_of_each_persons_own_and_a_few_odd_refusals_are_no_move() -> None:
    frame = log(np.random.default_rng(4), spread=0.6)
    own = 10 + pl.col("person").str.slice(1).cast(pl.Int64) % 15
    assert find_moved_thresholds(frame.with_columns(is_refused=pl.col("score") > own)) == []
    odd = pl.col("is_refused") | (pl.col("punch") % 400 == 0)
    assert find_moved_thresholds(frame.with_columns(is_refused=odd)) == []
