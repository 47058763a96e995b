from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from evenhand.linkage.assignment import joint
from evenhand.linkage.assignment.block import IMPOSSIBLE, Block
from evenhand.linkage.assignment.elimination import MOST_CELLS, elimination_order
from evenhand.linkage.assignment.joint import best_choices, best_plan, blocks_of, marginals

SIZES = st.tuples(st.integers(1, 4), st.integers(1, 4), st.integers(0, 2**32 - 1))


def excluding(strays: int, people: int) -> dict[tuple[int, int], np.ndarray]:
    tie = np.zeros((people + 1, people + 1))
    tie[1:, 1:] = np.where(np.eye(people, dtype=bool), IMPOSSIBLE, 0.0)
    return {(one, other): tie for one in range(strays) for other in range(one + 1, strays)}


def by_trying_all(weights: np.ndarray) -> tuple[np.ndarray, tuple[int, ...]]:
    """Marginals (strays, nobody and people) and the best assignment, no person twice."""
    strays, people = weights.shape
    padded = np.concatenate([np.zeros((strays, 1)), weights], axis=1)
    found = np.zeros((strays, people + 1))
    best, best_bits = (0,) * strays, -np.inf
    for choice in product(range(people + 1), repeat=strays):
        used = [place for place in choice if place]
        if len(used) != len(set(used)):
            continue
        bits = sum(padded[at, place] for at, place in enumerate(choice))
        if bits > best_bits:
            best, best_bits = choice, bits
        for at, place in enumerate(choice):
            found[at, place] += 2.0**bits
    return found / found.sum(axis=1, keepdims=True), best


@settings(max_examples=40, deadline=None)
@given(SIZES)
def test_small_blocks_agree_with_trying_every_assignment(sizes: tuple[int, int, int]) -> None:
    strays, people, seed = sizes
    weights = np.random.default_rng(seed).normal(0, 8, (strays, people))
    block = Block(tuple(np.concatenate([[0.0], row]) for row in weights), excluding(strays, people))
    expected, best = by_trying_all(weights)
    assert np.array(marginals(block)) == pytest.approx(expected, abs=1e-9)
    assert tuple(best_choices(block, [np.arange(people)] * strays)) == best
    assert tuple(place + 1 for place in best_plan(weights)) == best


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_ties_in_rings_are_summed_out_exactly(seed: int) -> None:
    rng = np.random.default_rng(seed)
    sizes = rng.integers(1, 4, 6).tolist()
    pairs = [(at, (at + 1) % 6) for at in range(6)] + [(4, 1)]
    bits = tuple(rng.normal(0, 6, size) for size in sizes)
    ties = {(one, other): rng.normal(0, 6, (sizes[one], sizes[other])) for one, other in pairs}
    expected = [np.zeros(size) for size in sizes]
    for choice in product(*map(range, sizes)):
        whole = sum(bits[at][place] for at, place in enumerate(choice))
        whole += sum(tie[choice[one], choice[other]] for (one, other), tie in ties.items())
        for at, place in enumerate(choice):
            expected[at][place] += 2.0**whole
    for found, every in zip(marginals(Block(bits, ties)), expected, strict=True):
        assert found == pytest.approx(every / every.sum(), abs=1e-9)


def test_a_block_whose_tables_would_grow_too_large_is_left_to_messages() -> None:
    chain = [(at, at + 1) for at in range(199)]
    assert elimination_order([13] * 200, chain) is not None
    every = [(one, other) for one in range(6) for other in range(one)]
    assert MOST_CELLS < 13**6
    assert elimination_order([13] * 6, every) is None


@settings(max_examples=25, deadline=None)
@given(SIZES)
def test_messages_are_exact_on_a_chain(sizes: tuple[int, int, int]) -> None:
    strays, people, seed = sizes
    rng = np.random.default_rng(seed)
    bits = tuple(np.concatenate([[0.0], rng.normal(0, 4, people)]) for _ in range(strays))
    chain = {(at, at + 1): rng.normal(0, 2, (people + 1, people + 1)) for at in range(strays - 1)}
    block = Block(bits, chain)
    by_messages = joint._by_messages(block)
    for found, expected in zip(by_messages, marginals(block), strict=True):
        assert found == pytest.approx(expected, abs=2e-3)


def by_highs(weights: np.ndarray) -> float:
    """The most bits of any assignment, by the integer programming of HiGHS (scipy.optimize.milp)."""
    strays, people = weights.shape
    whole = np.arange(strays * people).reshape(strays, people)
    once = np.zeros((strays + people, strays * people))
    for row in range(strays):
        once[row, whole[row]] = 1
    for who in range(people):
        once[strays + who, whole[:, who]] = 1
    found = milp(-weights.ravel(), constraints=LinearConstraint(once, ub=1), integrality=1, bounds=Bounds(0, 1))
    return -float(found.fun)


@settings(max_examples=30, deadline=None)
@given(st.tuples(st.integers(1, 7), st.integers(1, 7), st.integers(0, 2**32 - 1)))
def test_the_likeliest_assignment_is_that_of_another_solver(sizes: tuple[int, int, int]) -> None:
    strays, people, seed = sizes
    weights = np.random.default_rng(seed).normal(0, 8, (strays, people))
    block = Block(tuple(np.concatenate([[0.0], row]) for row in weights), excluding(strays, people))
    chosen = best_choices(block, [np.arange(people)] * strays)
    assert sum(block.bits[at][place] for at, place in enumerate(chosen)) == pytest.approx(by_highs(weights), abs=1e-6)


def test_a_block_too_large_to_try_still_never_gives_one_person_twice() -> None:
    rng = np.random.default_rng(5)
    strays = people = 14
    weights = rng.normal(0, 3, (strays, people)) + 12 * np.eye(people)
    block = Block(tuple(np.concatenate([[0.0], row]) for row in weights), excluding(strays, people))
    assert not block.is_small
    found = np.array(marginals(block))
    assert found.sum(axis=1) == pytest.approx(np.ones(strays))
    assert (found[:, 1:].sum(axis=0) < 1.02).all()
    assert found[:, 1:].argmax(axis=1).tolist() == list(range(people))
    choices = best_choices(block, [np.arange(people)] * strays)
    assert choices == [who + 1 for who in range(people)]


def test_strays_that_ties_connect_are_one_block_and_the_others_none() -> None:
    assert sorted(blocks_of(6, [(0, 2), (2, 4), (1, 5)])) == [[0, 2, 4], [1, 5]]
    assert blocks_of(3, []) == []
    # each in order, however many there are
    thirds = blocks_of(300, [(at, at + 3) for at in range(297)])
    assert sorted(thirds) == [list(range(first, 300, 3)) for first in range(3)]
