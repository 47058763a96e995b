"""The line at the readers, and what the formulas say of it."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.enrolment.queueing import formulas, line


def _mean_and_error(waited: np.ndarray, batches: int = 40) -> tuple[float, float]:
    """Return the mean wait and its standard error, by batch means (a wait depends on the waits before it)."""
    means = waited[len(waited) % batches :].reshape(batches, -1).mean(axis=1)
    return float(means.mean()), float(means.std(ddof=1) / math.sqrt(batches))


@pytest.mark.parametrize(("readers", "rho"), [(1, 0.5), (2, 0.8), (4, 0.8)])
def test_the_line_with_fixed_service_agrees_with_crommelin_within_its_own_error(readers: int, rho: float) -> None:
    rng = np.random.default_rng(4)
    arrivals = rng.exponential(1 / (rho * readers), 400_000).cumsum()
    mean, error = _mean_and_error(line.waits(arrivals, 1.0, readers))
    assert abs(mean - formulas.fixed_service_wait(readers, rho * readers)) < 3.5 * error
    assert error < 0.05 * mean


@pytest.mark.parametrize("readers", [1, 3])
def test_the_line_with_random_service_agrees_with_erlang_within_its_own_error(readers: int) -> None:
    rng = np.random.default_rng(5)
    n, load = 120_000, 0.7 * readers
    arrivals = rng.exponential(1 / load, n).cumsum()
    waited = line.waits(arrivals, rng.exponential(1, n), readers)
    mean, error = _mean_and_error(waited)
    assert abs(mean - formulas.random_service_wait(readers, load)) < 3.5 * error
    over, over_error = _mean_and_error((waited > 1).astype(float))
    assert abs(over - formulas.chance_of_waiting_longer(readers, load, 1.0)) < 3.5 * over_error


def test_a_long_wait_at_one_reader_is_told_in_all_its_digits() -> None:
    # The tail of M/D/1 falls off by exp(-theta), where exp(theta) - 1 = theta / rho; for 0.8 theta is about 0.431.
    theta = 0.4310
    for _ in range(60):
        theta -= (math.expm1(theta) - theta / 0.8) / (math.exp(theta) - 1 / 0.8)
    beyond = [1 - formulas.fixed_service_wait_within(0.8, t) for t in (30, 31)]
    assert math.log(beyond[0] / beyond[1]) == pytest.approx(theta, rel=1e-3)


def test_more_load_than_readers_never_settles() -> None:
    assert formulas.erlang_c(2, 2.0) == 1.0
    assert formulas.random_service_wait(2, 2.5) == math.inf
    assert formulas.fixed_service_wait(2, 2.0) == math.inf
    assert formulas.varied_service_wait(1.0, 0) == math.inf
    assert formulas.fixed_service_wait_within(1.2, 5) == 0.0


def test_nobody_waits_where_nobody_comes() -> None:
    assert formulas.erlang_c(3, 0.0) == 0.0
    assert formulas.fixed_service_wait(3, 0.0) == 0.0
    assert line.percentile(np.zeros(0)) == 0.0
    assert line.readers_in_line([], 8, 20) == 1


arrivals_and_readers = st.tuples(
    st.lists(st.floats(0, 600, allow_nan=False), max_size=40).map(sorted), st.integers(1, 5), st.floats(1, 30)
)


@settings(max_examples=60, deadline=None)
@given(arrivals_and_readers)
def test_fixed_service_is_the_same_line_person_by_person(case: tuple[list[float], int, float]) -> None:
    arrivals, readers, service = np.array(case[0]), case[1], case[2]
    one_by_one = line.waits(arrivals, np.full(len(arrivals), service), readers)
    assert line.waits(arrivals, service, readers) == pytest.approx(one_by_one, abs=1e-6)


@settings(max_examples=60, deadline=None)
@given(arrivals_and_readers)
def test_one_reader_more_makes_nobody_wait_longer(case: tuple[list[float], int, float]) -> None:
    arrivals, readers, service = np.array(case[0]), case[1], case[2]
    fewer, more = (line.waits(arrivals, service, c) for c in (readers, readers + 1))
    assert (more <= fewer + 1e-6).all()
    # Spread out, nobody waits longer than at the same place of a line that forms all at once.
    at_once = line.waits(np.zeros(len(arrivals)), service, readers)
    assert (fewer <= at_once + 1e-6).all()


def test_enough_readers_are_found_for_the_lines_of_several_days() -> None:
    # 12 people at once, 10 s each: with 3 readers the 12th person waits 30 s, the 95th percentile; with 4, 20 s.
    day = np.zeros(12)
    assert line.readers_in_line([day, day], 10, 30) == 3
    assert line.readers_in_line([day, day], 10, 29) == 4
    assert line.readers_at_the_door(12, 10, 9) is None
