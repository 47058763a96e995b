"""Refusals are counted per presentation and per transaction, and people are the trials."""

from __future__ import annotations

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from evenhand.scores import error_rates, group_attempts, separate_suspects
from evenhand.scores.rates.clustered import clustered_rates
from evenhand.scores.rates.error_rates import sample_size_note
from evenhand.scores.rates.intervals import wilson
from tests.scores.invented import rows

SITES = {"A": "North", "B": "South"}


def refused(at: int, **more: object) -> dict[str, object]:
    return {"at": at, "is_refused": True, "score": 20.0, **more}


def one(frame: pl.DataFrame, measure: str, of: str = "all", name: str = "everybody") -> dict[str, object]:
    (row,) = frame.filter(pl.col("measure") == measure, pl.col("of") == of, pl.col("name") == name).rows(named=True)
    return row


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 400), st.integers(1, 400), st.sampled_from([0.8, 0.9, 0.95, 0.99]))
def test_intervals_agree_with_scipys_binomial_test(errors: int, trials: int, confidence: float) -> None:
    errors = min(errors, trials)
    theirs = stats.binomtest(errors, trials).proportion_ci(confidence, method="wilson")
    low, high = wilson(errors, trials, confidence)
    assert (float(low), float(high)) == pytest.approx((theirs.low, theirs.high), abs=1e-9)


def test_two_refusals_and_an_acceptance_are_one_transaction_accepted() -> None:
    grouped = group_attempts(rows(refused(0), refused(6), {"at": 12}, {"at": 9000}))
    assert (grouped.attempts.tolist(), grouped.is_rejected.tolist()) == ([3, 1], [False, False])


def test_a_transaction_ends_after_the_attempts_a_reader_allows_or_after_the_gap() -> None:
    grouped = group_attempts(rows(refused(0), refused(6), refused(12), refused(18), refused(400)))
    assert grouped.attempts.tolist() == [3, 1, 1]
    assert grouped.is_rejected.all()


def test_rates_per_presentation_and_per_transaction_differ() -> None:
    # one person is refused twice and then accepted, another accepted twice: 2 of 5 presentations, 0 of 3 transactions
    log = rows(refused(0), refused(6), {"at": 12}, {"at": 0, "person": "P2"}, {"at": 9000, "person": "P2"})
    rates = error_rates(log, SITES)
    assert (one(rates, "false_non_match_rate")["errors"], one(rates, "false_non_match_rate")["trials"]) == (2, 5)
    assert (one(rates, "false_rejection_rate")["errors"], one(rates, "false_rejection_rate")["trials"]) == (0, 3)
    assert one(rates, "false_non_match_rate", "site", "North")["people"] == 2


def test_a_refusal_without_score_is_a_failure_to_acquire_only_where_others_have_scores() -> None:
    told = rows(refused(0), refused(6, score=None), {"at": 12})
    rates = error_rates(told, SITES)
    # the comparison that was never made is no trial of the false non-match rate
    assert (one(rates, "false_non_match_rate")["errors"], one(rates, "false_non_match_rate")["trials"]) == (1, 2)
    assert (one(rates, "failure_to_acquire_rate")["errors"], one(rates, "failure_to_acquire_rate")["trials"]) == (1, 3)
    untold = error_rates(rows(refused(0, score=None), {"at": 12}), SITES)
    assert one(untold, "refused_presentation_rate")["errors"] == 1
    assert untold.filter(pl.col("measure") == "false_non_match_rate").height == 0


def test_scores_are_not_needed() -> None:
    rates = error_rates(rows(refused(0, score=None), {"at": 300, "score": None}), SITES)
    assert one(rates, "false_rejection_rate")["errors"] == 1


def test_a_log_without_refusals_gives_no_rate() -> None:
    assert error_rates(rows({"at": 0}, {"at": 9000}), SITES).height == 0
    # nor does one such reader beside another that does write refusals
    mixed = error_rates(rows(refused(0), {"at": 6}, {"at": 9, "reader": "B"}), SITES)
    assert set(mixed.filter(pl.col("of") == "reader")["name"]) == {"A"}


def test_no_error_is_bounded_by_people_not_presentations() -> None:
    people = np.repeat(np.arange(20), 1)
    rates = clustered_rates(np.zeros(20, dtype=np.int64), np.zeros(20, dtype=np.int64), np.full(20, 500), 1)
    # rule of 3 with 20 people: 1 - 0.05 ** (1 / 20) = 0.139, whatever the 10,000 presentations
    assert len(people) == 20
    assert (rates.low[0], rates.high[0]) == (0.0, pytest.approx(1 - 0.05 ** (1 / 20)))


def test_too_few_errors_are_said() -> None:
    assert sample_size_note(0, 20).startswith("Rule of 3: no error among 20 people, so the rate may be up to 14 %")
    assert sample_size_note(10, 20).startswith("10 errors seen, and from 30 on")
    assert sample_size_note(30, 20) == ""


def test_a_wrong_number_keyed_by_a_slip_is_set_apart() -> None:
    usual = [{"at": 3600 * i, "score": 4.0} for i in range(20)]
    slip = rows(*usual, refused(90_000, score=60.0))
    grouped = group_attempts(slip)
    assert grouped.is_suspect.sum() == 1
    # with no other refusal left, nothing of it is counted as a false rejection
    assert one(error_rates(slip, SITES), "false_rejection_rate")["errors"] == 0


def test_a_hurt_hand_that_is_tried_three_times_is_no_slip() -> None:
    usual = [{"at": 3600 * i, "score": 4.0} for i in range(20)]
    hurt = group_attempts(rows(*usual, *(refused(90_000 + 6 * i, score=60.0) for i in range(3))))
    assert not hurt.is_suspect.any()


def test_clustered_interval_covers_where_the_naive_one_does_not() -> None:
    # beta-binomial people: rate 2 %, correlation 0.04 (a + b = 24), 40 people x 50 presentations. The corrected
    # Wilson interval covered 94 % and the naive one 75 % of 4,000 simulated sets.
    rng = np.random.default_rng(3)
    sets = 600
    rates = rng.beta(0.02 * 24, 0.98 * 24, (sets, 40))
    errors = rng.binomial(50, rates).ravel()
    group = np.repeat(np.arange(sets), 40)
    found = clustered_rates(group, errors, np.full(sets * 40, 50), sets)
    covered = np.mean((found.low <= 0.02) & (found.high >= 0.02))
    naive_low, naive_high = wilson(found.errors, found.trials)
    assert 0.91 < covered < 0.98
    assert np.mean((naive_low <= 0.02) & (naive_high >= 0.02)) < 0.82


def test_three_far_refusals_between_ordinary_visits_are_another_hand() -> None:
    usual = [{"at": 36_000 * i, "score": 4.0} for i in range(20)]
    between = [refused(36_000 * 19 + 15_000 + 6 * i, score=60.0) for i in range(3)]
    log = rows(*usual, *between, {"at": 36_000 * 20, "score": 4.2})
    kept, apart = separate_suspects(log)
    assert (kept.height, apart.height) == (21, 3)
