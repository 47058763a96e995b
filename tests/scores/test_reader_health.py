"""Readers gone quiet, refusing in bursts, reading high, or with a clock that is off."""

from __future__ import annotations

import numpy as np
import polars as pl
import pytest

from evenhand.scores import ReaderLogs, fit_scores
from evenhand.scores.readers.bursts import refusal_bursts
from evenhand.scores.readers.clock import ahead_of_file, clock_offsets
from evenhand.scores.readers.logs import logs_of
from evenhand.scores.readers.offsets import reader_offsets
from evenhand.scores.readers.quiet import quiet_readers
from evenhand.scores.readers.refused_hands import refused_hands
from tests.scores.invented import FIRST, FIRST_AT, log

DAY = 86_400
END = FIRST_AT + 40 * DAY


def test_a_reader_silent_in_its_busy_hours_is_quiet() -> None:
    frame = log(np.random.default_rng(1))
    silent = frame.filter((pl.col("reader") != "R1") | (pl.col("at") < END - DAY))
    found = quiet_readers(logs_of(silent), END - DAY + 12 * 3600)
    assert found["reader"].to_list() == ["R1"]
    # three people in ten use it on a working day of 160 presentations: some 50
    assert found["usual"][0] == pytest.approx(50, rel=0.5)
    # at five in the morning nobody ever comes
    assert quiet_readers(logs_of(frame), END - DAY + 5 * 3600).height == 0


def test_several_people_refused_within_half_an_hour_are_a_burst() -> None:
    frame = log(np.random.default_rng(2))
    hour = frame.filter(pl.col("reader") == "R0")["at"][500]
    struck = (pl.col("reader") == "R0") & pl.col("at").is_between(hour, hour + 1200)
    frame = frame.with_columns(is_refused=pl.when(struck).then(pl.lit(value=True)).otherwise("is_refused"))
    found = refusal_bursts(logs_of(frame))
    assert found["reader"].to_list() == ["R0"]
    assert abs(found["since"][0] - hour) <= 1800


def test_one_person_refused_again_and_again_is_no_burst() -> None:
    frame = log(np.random.default_rng(3))
    frame = frame.with_columns(is_refused=pl.col("is_refused") | (pl.col("person") == "P004"))
    assert refusal_bursts(logs_of(frame)).height == 0


def test_people_who_are_often_refused_and_come_together_are_no_burst() -> None:
    # invented: eight people, refused seven times in ten all along, who come once a day within minutes of each other,
    # and all others hours later
    rng = np.random.default_rng(9)
    frame = log(rng, people=90, threshold=np.inf).filter(pl.col("reader") == "R0")
    eight = pl.col("person").is_in([f"P{3 * at:03d}" for at in range(8)])
    frame = frame.filter(eight == (pl.col("clock_s") < 8.5 * 3600))
    often = eight & pl.Series(rng.random(frame.height) < 0.7)
    assert refusal_bursts(logs_of(frame.with_columns(is_refused=often))).height == 0


def test_days_on_which_all_hands_are_refused_more_often_are_no_burst() -> None:
    # invented: the share refused differs from day to day, 3 % on the whole, as a beta distribution; the binomial tail
    # of one share for all days would name several readers in these forty
    found = 0
    for seed in range(40):
        rng = np.random.default_rng(seed)
        frame = log(rng, threshold=np.inf).filter(pl.col("reader") == "R0")
        share = rng.beta(0.6, 19.4, 41)[(frame["day"].to_physical() - frame["day"].to_physical().min()).to_numpy()]
        found += refusal_bursts(
            logs_of(frame.with_columns(is_refused=pl.Series(rng.random(frame.height) < share)))
        ).height
    assert found <= 2


def test_people_who_use_two_readers_give_a_wrong_clock_away() -> None:
    frame = log(np.random.default_rng(4)).with_columns(
        clock_s=pl.col("clock_s") + pl.when(pl.col("reader") == "R2").then(600).otherwise(0)
    )
    (found,) = clock_offsets(logs_of(frame)).rows(named=True)
    assert found["reader"] == "R2"
    assert found["low"] <= 600 <= found["high"]


def test_a_clock_nobody_shares_cannot_be_judged() -> None:
    frame = log(np.random.default_rng(5)).with_columns(person=pl.concat_str("person", "reader"))
    frame = frame.with_columns(clock_s=pl.col("clock_s") + pl.when(pl.col("reader") == "R2").then(600).otherwise(0))
    assert clock_offsets(logs_of(frame)).height == 0


def test_a_log_from_after_its_own_taking_is_ahead() -> None:
    taken = pl.when(pl.col("reader") == "R0").then(END - 3 * DAY).otherwise(END)
    frame = log(np.random.default_rng(7)).with_columns(taken_at=taken)
    (found,) = ahead_of_file(logs_of(frame), END).rows(named=True)
    late = frame.filter(pl.col("reader") == "R0", pl.col("at") > END - 3 * DAY + 300)
    assert (found["reader"], found["kind"]) == ("R0", "file_ahead")
    assert (found["count"], found["people"]) == (late.height, late["number"].n_unique())
    assert found["size"] == late["at"].max() - (END - 3 * DAY)


def test_a_reader_that_reads_high_is_named_with_its_interval() -> None:
    frame = log(np.random.default_rng(6), people=80, shift=lambda p, r, d: 0.6 if r == 1 else 0.0)
    model = fit_scores(frame)
    assert model is not None
    found = reader_offsets(model)
    assert found["reader"].to_list() == ["R1"]
    assert found["low"][0] > 1.0
    assert found["size"][0] == pytest.approx(1.5, abs=0.4)


def test_the_usual_share_is_the_rest_of_the_sites_over_the_same_days() -> None:
    frame = log(np.random.default_rng(8))
    often = (pl.col("person") == "P004") & (pl.col("reader") == "R1") & (pl.col("day").dt.day() % 2 == 0)
    frame = frame.with_columns(is_refused=pl.col("is_refused") | often)
    found = refused_hands(logs_of(frame), END, {"R0": "Mill", "R1": "Mill", "R2": "Mill"})
    row = found.filter(pl.col("reader") == "R1", pl.col("person") == "P004").row(0, named=True)
    late = frame.filter(pl.col("at") > END - 28 * DAY, pl.col("at") <= END)
    mine = (pl.col("person") == "P004") & (pl.col("reader") == "R1")
    rest, own = late.filter(~mine), late.filter(mine)
    assert (row["refused"], row["presentations"]) == (own["is_refused"].sum(), own.height)
    assert (row["elsewhere_refused"], row["elsewhere_presentations"]) == (rest["is_refused"].sum(), rest.height)
    assert row["usual"] == rest["is_refused"].mean()


def test_what_a_page_counts_at_the_readers_is_what_the_finding_divides() -> None:
    frame = log(np.random.default_rng(8))
    often = (pl.col("person") == "P004") & (pl.col("reader") == "R1")
    frame = frame.with_columns(is_refused=pl.col("is_refused") | often)
    sites = {"R0": "Mill", "R1": "Mill", "R2": "Quay"}
    # as of noon two days before the log's last day: neither whole days nor all that is there
    logs = ReaderLogs(frame, sites, END - 36 * 3600, FIRST)
    row = logs.refused_hands.filter(pl.col("person") == "P004").row(0, named=True)
    refused, presented = np.sum([logs.refused_lately[reader] for reader in ("R0", "R1")], axis=0)
    assert (refused, presented) == (
        row["refused"] + row["elsewhere_refused"],
        row["presentations"] + row["elsewhere_presentations"],
    )
