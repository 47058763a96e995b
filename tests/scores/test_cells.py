"""Scores are put in order by cell, whatever the keys."""

from __future__ import annotations

import numpy as np
import pytest

from evenhand.scores.effects.cells import sort_keys


@pytest.mark.parametrize("highest", [40, 2**40, 2**53, 2**62], ids=["narrow", "wide", "just fits", "too wide"])
def test_keys_are_put_in_order_and_equal_ones_stay_as_they_stood(highest: int) -> None:
    rng = np.random.default_rng(3)
    key = rng.choice(rng.integers(0, highest, 40), 500)
    order, in_order = sort_keys(key)
    assert order.tolist() == np.argsort(key, kind="stable").tolist()
    assert in_order.tolist() == sorted(key.tolist())


def test_no_keys_have_no_order() -> None:
    assert [found.tolist() for found in sort_keys(np.array([], dtype=np.int64))] == [[], []]
