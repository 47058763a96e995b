"""Charts alarm as rarely as promised while nothing changes, and say what changed when something does."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import polars as pl
import pytest

from evenhand.scores import design_charts, design_for, find_alarms, fit_scores
from evenhand.scores.alarms.charts import cusum, cusum_alarms
from evenhand.scores.alarms.daily import daily_values, pair_days
from evenhand.scores.alarms.design import Traffic, cusum_limit
from evenhand.scores.alarms.shape import shape_of
from evenhand.scores.alarms.shuffled import in_chance_orders
from evenhand.scores.alarms.standardise import standardise
from evenhand.scores.effects.changes import estimate_changes, find_cause_at_reader
from evenhand.scores.effects.fit import fit_effects
from evenhand.terms.records import Refusal
from tests.scores.invented import FIRST, log, rows


def watched(frame: pl.DataFrame, budget: float = 1.0) -> pl.DataFrame:
    model = fit_scores(frame)
    return find_alarms(model, design_for(model, frame, budget))


def test_the_false_alarms_of_all_charts_add_up_to_the_budget() -> None:
    traffic = {"hand": Traffic(300, 21), "reader": Traffic(8, 26), "reader_drift": Traffic(8, 26)}
    limits = design_charts(2.0, traffic, 0.0)
    assert sum(limit.false_alarms_a_month for limit in limits.values()) == pytest.approx(2.0, rel=1e-3)
    # hands get a third: 300 x 21 x 3 / 2 = 9450 points between two false alarms
    assert limits["hand"].limit == pytest.approx(cusum_limit(9450.0)[0], rel=1e-4)
    # twice the people, higher limits
    more = design_charts(2.0, traffic | {"hand": Traffic(600, 21)}, 0.0)
    assert more["hand"].limit > limits["hand"].limit


def test_no_false_alarms_at_all_cannot_be_promised() -> None:
    with pytest.raises(Refusal, match="cannot be promised"):
        design_charts(0.0, {"hand": Traffic(10, 20)}, 0.0)


def test_independent_values_alarm_once_a_run_length() -> None:
    h, length = cusum_limit(400.0)
    z = np.random.default_rng(1).normal(0, 1, (60, 8000))
    # an episode begins once per run length plus the time the chart needs to come to rest, some tens of points
    alarms = len(cusum_alarms(z, 0.5, h).at)
    assert 0.75 < alarms / (z.size / length) < 1.05


def test_a_quiet_site_alarms_no_more_often_than_accepted() -> None:
    # four sites of 40 days at 3 false alarms a month: 4 x 40 / 30.4 x 3 = 15.8 expected at most
    alarms = sum(watched(log(np.random.default_rng(seed)), 3.0).height for seed in range(4))
    assert alarms <= 15.8 + 3 * np.sqrt(15.8)


def test_a_hand_that_changed_is_told_from_a_reader_that_changed() -> None:
    frame = log(
        np.random.default_rng(3),
        shift=lambda p, r, d: (0.9 if p == 7 and d >= 20 else 0.0) + (0.7 if r == 2 and d >= 26 else 0.0),
    )
    alarms = watched(frame)
    hand = alarms.filter(pl.col("chart") == "hand", pl.col("person") == "P007")
    assert hand["cause"].to_list() == ["hand"]
    assert abs(hand["since"][0] - (FIRST + timedelta(days=20))) <= timedelta(days=4)
    reader = alarms.filter(pl.col("chart") == "reader")
    assert reader["reader"].to_list() == ["R2"]
    assert reader["cause"].to_list() == ["reader"]


def test_of_a_reader_it_is_said_how_many_hands_changed_and_no_hand_is_spoken_of_that_is_not_named() -> None:
    # two of those who come to R2 change, P008 by far the most often there; the counts are those put in
    frame = log(
        np.random.default_rng(3),
        shift=lambda p, r, d: (1.1 if p in {8, 11} and d >= 18 else 0.0) + (0.7 if r == 2 and d >= 20 else 0.0),
    )
    more = log(np.random.default_rng(4), people=9, shift=lambda p, r, d: (1.1 if d >= 18 else 0.0) + 0.7 * (d >= 20))
    more = more.filter(pl.col("person") == "P008", pl.col("reader") == "R2")
    alarms = watched(pl.concat([frame, more.with_columns(punch=pl.col("punch") + 1_000_000)]))
    said = alarms.filter(pl.col("chart").is_in(["reader", "reader_drift"]), pl.col("reader") == "R2")
    assert said.height
    assert set(said["says"]) == {"The reader changed, and so did 2 hands of its people."}


@pytest.mark.parametrize(
    ("of_reader", "changed", "says"),
    [
        (1.0, (), "The reader changed: scores rose for its people, who are as before elsewhere."),
        (1.0, (0,), "The reader changed, and so did 1 hand of its people."),
        (1.0, (3, 5), "The reader changed, and so did 2 hands of its people."),
        (
            0.0,
            (0, 4, 5),
            "Scores rose at this reader, but 3 hands of its people changed, and whether the reader did as well is not "
            "sure.",
        ),
    ],
)
def test_a_reader_s_change_is_told_in_words_of_the_reader(
    of_reader: float, changed: tuple[int, ...], says: str
) -> None:
    # sixty people at three readers, so that the two are well told apart; each change is put in as it is meant
    person, reader = np.repeat(np.arange(60), 3), np.tile(np.arange(3), 60)
    change = np.where(reader == 0, of_reader, 0.0) + np.isin(person, changed)
    posterior = estimate_changes(person, reader, change, 0.04, 60, 3, person_variance=0.25, reader_variance=0.25)
    assert find_cause_at_reader(posterior, 0, 0, bound=0.3).says == says


def test_a_person_and_a_reader_that_only_meet_each_other_cannot_be_told_apart() -> None:
    frame = log(np.random.default_rng(5), people=30)
    alone = log(np.random.default_rng(6), people=1, readers=1, shift=lambda p, r, d: 1.2 if d >= 22 else 0.0)
    alone = alone.with_columns(person=pl.lit("LONE"), reader=pl.lit("SHED"), punch=pl.col("punch") + 1_000_000)
    alarms = watched(pl.concat([frame, alone]))
    lone = alarms.filter((pl.col("person") == "LONE") | (pl.col("reader") == "SHED"), pl.col("cause").is_not_null())
    assert lone.height
    assert set(lone["cause"]) == {"cannot_tell"}
    assert "at another reader" in lone["says"][0]


def test_a_cleaned_reader_is_no_bad_news() -> None:
    frame = log(np.random.default_rng(8), shift=lambda p, r, d: -0.7 if r == 0 and d >= 20 else 0.0)
    fell = watched(frame).filter(pl.col("reader") == "R0")
    fell = fell.filter(pl.col("chart").is_in(["reader", "reader_drift"]))
    assert fell["chart"].to_list() == ["reader_drift"]
    assert fell["says"][0].startswith("Scores fell")


def test_step_and_drift_have_their_shapes() -> None:
    rng = np.random.default_rng(2)
    rest = rng.normal(0, 1, 40)
    jumped = np.r_[rest, rng.normal(2.5, 1, 20)]
    assert shape_of(jumped, np.ones(60), 40, 59) == ("step", 40)
    grew = np.r_[rest, 0.25 * np.arange(1, 31) + rng.normal(0, 1, 30)]
    shape, since = shape_of(grew, np.ones(70), 42, 69)
    assert shape == "drift"
    assert since == pytest.approx(40, abs=6)
    assert shape_of(np.r_[rest, 6.0, 6.0], np.ones(42), 40, 41)[0] == "unclear"


def test_what_grew_for_weeks_and_then_held_is_a_drift_and_is_never_called_a_step() -> None:
    # random series of known shape (no source but their making): 60 days at rest, a rise over 45, then 75 days on which
    # it holds; one workday in three is missed, on leave whole weeks
    rng = np.random.default_rng(41)
    told = {"drift": [], "step": []}
    for _ in range(150):
        came = (rng.random(180) < 0.67) & (np.arange(180) // 7 % 6 != 4)
        day = np.arange(180)
        grew = 3.0 * np.clip((day - 60) / 45, 0, 1)
        jumped = 3.0 * (day >= 60)
        for shape, level in (("drift", grew), ("step", jumped)):
            seen = np.where(came, level + rng.normal(0, 1, 180), np.nan)
            told[shape].append(shape_of(seen, np.ones(180), 62, 179)[0])
    for shape, other in (("drift", "step"), ("step", "drift")):
        assert told[shape].count(other) <= 0.05 * len(told[shape])
        assert told[shape].count(shape) >= 0.7 * len(told[shape])


def test_refusals_alone_raise_an_alarm() -> None:
    frame = log(np.random.default_rng(4)).with_columns(score=pl.lit(None, pl.Float64))
    often = (pl.col("person") == "P003") & (pl.col("day") >= FIRST + timedelta(days=30)) & (pl.col("punch") % 2 == 0)
    frame = frame.with_columns(is_refused=pl.when(often).then(pl.lit(value=True)).otherwise("is_refused"))
    alarms = watched(frame)
    assert alarms.filter(pl.col("chart") == "hand_refusals")["person"].to_list() == ["P003"]
    assert "presentations under one number were refused" in alarms.filter(person="P003")["says"][0]
    row = alarms.filter(person="P003").row(0, named=True)
    # the counts and the share beside them are of the days named, no others
    run = frame.filter(pl.col("person") == "P003", pl.col("day").is_between(row["since"], row["on"]))
    assert (row["refused"], row["presentations"]) == (run["is_refused"].sum(), run.height)
    assert row["size"] == row["refused"] / row["presentations"]
    assert f"{row['refused']} of {row['presentations']} presentations" in row["says"]
    assert f"to {row['on']:%a} {row['on'].day} {row['on']:%b}" in row["says"]
    assert f"({100 * row['size']:.2g} %)" in row["says"]


def test_who_is_often_refused_is_no_alarm_and_who_begins_to_be_is() -> None:
    # P003 is refused one time in five all along, P004 from day 25 on
    often = (pl.col("person") == "P003") | (
        (pl.col("person") == "P004") & (pl.col("day") >= FIRST + timedelta(days=25))
    )
    frame = log(np.random.default_rng(4)).with_columns(score=pl.lit(None, pl.Float64), is_refused=pl.lit(value=False))
    frame = frame.with_columns(is_refused=often & (pl.col("punch") % 5 == 0))
    assert watched(frame).filter(pl.col("chart") == "hand_refusals")["person"].to_list() == ["P004"]


@pytest.mark.parametrize("law", ["normal", "long tail", "days hang together", "people differ"])
def test_a_limit_from_the_log_itself_gives_the_alarms_it_is_for(law: str) -> None:
    rng = np.random.default_rng(21)
    found = expected = 0.0
    for _ in range(6):
        z = rng.standard_t(3, (200, 90)) / np.sqrt(3) if law == "long tail" else rng.normal(0, 1, (200, 90))
        if law == "days hang together":
            for day in range(1, 90):
                z[:, day] = 0.4 * z[:, day - 1] + np.sqrt(1 - 0.16) * z[:, day]
        if law == "people differ":
            z *= np.exp(rng.normal(0, 0.3, (200, 1)))
        limit = in_chance_orders(z, lambda values: cusum(values, 0.5), 14, 3.0).limit_for(1.0)
        found += len(cusum_alarms(z, 0.5, limit).at)
        expected += 3.0
    # a Poisson count of 18, and half as much again for what blocks do not keep together
    assert expected / 3 < found < 1.5 * expected + 2 * np.sqrt(expected)


def test_a_limit_hangs_on_the_law_of_the_values_and_not_on_the_few_highest_of_one_log() -> None:
    # series of one law (no source but their making): theory gives one limit for all of them
    limits = []
    for seed in range(10):
        z = np.random.default_rng([23, seed]).normal(0, 1, (150, 60))
        limits.append(in_chance_orders(z, lambda values: cusum(values, 0.5), 14, 2.8).limit_for(0.15))
    theory = cusum_limit(150 * 60 / 2.8 / 0.15)[0]
    assert np.mean(limits) == pytest.approx(theory, rel=0.1)
    assert np.std(limits) < 0.08 * theory


def test_a_small_rise_among_scores_with_long_tails_shows_as_far_as_the_theory_of_pulled_in_scores_says() -> None:
    # Source: Huber (1981), Robust Statistics, chapter 3: the variance of his estimate is E psi^2 / (E psi')^2 / n. Of
    # the double exponential law of scale 1, pulled in at 1.345 spreads of 1.4826 ln 2, that is 1.434; of the mean, 2.
    at = 1.345 * 1.482602 * np.log(2)
    slope, square = 1 - np.exp(-at), 2 * (1 - np.exp(-at) * (1 + at + at**2 / 2)) + at**2 * np.exp(-at)
    assert square / slope**2 == pytest.approx(1.434, abs=0.001)
    rise, people, days = 0.2, 400, 60
    person, day = (
        np.repeat(each, 4) for each in (np.repeat(np.arange(people), days), np.tile(np.arange(days), people))
    )
    still = np.random.default_rng(24).laplace(0, 1, len(person))
    charted = []
    for values in (still, still + np.where((person % 2 == 0) & (day >= 50), rise, 0.0)):
        effects = fit_effects(person, np.zeros_like(person), values, people, 1)
        charted.append(daily_values(pair_days(day, values, effects, days), people, 1, days).hand)
    moved = np.nanmean((charted[1] - charted[0])[:, 50:], axis=1)
    shown = np.mean(moved[::2]) - np.mean(moved[1::2])  # what all share is the reader's
    # to a twentieth: what is expected takes in a little of the rise, and dividing by a spread of each one's own gives a
    # little back; means of the scores as they are would show a rise of 0.29 here
    assert shown == pytest.approx(rise * np.sqrt(4 / 1.434), rel=0.05)


def test_a_plain_change_does_not_raise_the_limit_that_is_to_find_it() -> None:
    rng = np.random.default_rng(22)
    z = rng.normal(0, 1, (150, 90))
    still = in_chance_orders(z, lambda values: cusum(values, 0.5), 14, 3.0).limit_for(0.2)
    z[:8, 40:] += 2.5
    z[8:12] += np.linspace(0, 4, 90)
    moved = in_chance_orders(z, lambda values: cusum(values, 0.5), 14, 3.0).limit_for(0.2)
    assert moved < 1.15 * still


def test_what_grew_and_was_gone_again_does_not_raise_the_limit_of_a_few_readers() -> None:
    z = np.random.default_rng(12).normal(0, 1, (4, 80))
    still = in_chance_orders(z, lambda values: cusum(values, 0.5), 14, 2.6).limit_for(0.2)
    z[1, 40:60] += np.linspace(0, 4.5, 20)
    z[1, 60:70] += 4.5  # cleaned then: one split of such a series leaves most of it where it was
    moved = in_chance_orders(z, lambda values: cusum(values, 0.5), 14, 2.6).limit_for(0.2)
    assert moved < 1.3 * still


def test_two_readers_of_four_that_change_do_not_set_the_scale_of_all() -> None:
    z = np.random.default_rng(13).normal(0, 1, (4, 80))
    _, still = standardise(z)
    z[1, 40:] += 5
    z[3, 30:] += np.linspace(0, 6, 50)
    values, spread = standardise(z)
    assert spread < 2 * still  # by the middle of two that stay and two that change it would be four times as wide
    assert np.nanmean(values[1, 40:]) > 3  # which a chart sees on the next day


def test_two_readers_of_four_that_change_are_both_seen_within_days() -> None:
    def shift(person: int, reader: int, day: int) -> float:
        jumped = 0.4 if reader == 1 and day >= 30 else 0.0
        return jumped + (min(day - 24, 10) * 0.06 if reader == 3 and day >= 25 else 0.0)

    alarms = watched(log(np.random.default_rng(14), readers=4, days=45, shift=shift))
    seen = alarms.filter(pl.col("chart").is_in(["reader", "reader_drift"]), pl.col("size") > 0)
    first = dict(seen.group_by("reader").agg(pl.col("on").min()).iter_rows())
    assert first["R1"] <= FIRST + timedelta(days=33)
    assert first["R3"] <= FIRST + timedelta(days=36)


def test_a_log_of_acceptances_without_scores_has_no_chart() -> None:
    frame = log(np.random.default_rng(4)).with_columns(score=pl.lit(None, pl.Float64), is_refused=pl.lit(value=False))
    assert watched(frame).height == 0


def test_refusals_are_charted_in_order_of_time_whichever_reader_they_come_from() -> None:
    # P1 is refused at A on one day, and at B all the while: by reader the refusals at A would stand together
    late = [{"at": 86_400 * 30 + 60 * i, "reader": "ABC"[i % 3], "is_refused": True, "score": None} for i in range(9)]
    before = [{"at": 3600 * i, "reader": "ABC"[i % 3], "score": None} for i in range(600)]
    others = [{"at": 3600 * i, "person": "P2", "reader": "ABC"[i % 3], "score": None} for i in range(600)]
    found = watched(rows(*before, *late, *others)).filter(pl.col("chart") == "hand_refusals")
    assert found["person"].to_list() == ["P1"]
    # all nine came on one day, 30 days after the first
    assert found["since"].to_list() == [FIRST + timedelta(days=30)]
