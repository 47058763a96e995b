"""Presentations and punches counted by reader and number."""

from __future__ import annotations

import pytest

from evenhand.reconcile import count_seen
from evenhand.terms.tables import RECORDED, SEEN

KEYED = [
    ("North", "1", 300, "accepted"),
    ("North", "1", 100, None),
    ("North", "1", 200, "accepted"),
    ("North", "1", 50, "refused"),
    ("North", "1", 400, "refused"),
    ("North", "2", 100, "refused"),
    ("East", "1", 100, "accepted"),
]


@pytest.mark.parametrize(
    ("since", "rows"),
    [
        (None, [("East", "1", 1, 1, 100, 100), ("North", "1", 5, 3, 100, 300), ("North", "2", 1, 0, None, None)]),
        (100, [("East", "1", 1, 1, 100, 100), ("North", "1", 4, 3, 100, 300), ("North", "2", 1, 0, None, None)]),
        (101, [("North", "1", 3, 2, 200, 300)]),
        (301, [("North", "1", 1, 0, None, None)]),
        (401, []),
    ],
)
def test_every_hand_laid_down_is_counted_and_those_accepted_with_their_first_and_last(since, rows):
    recorded = RECORDED.rows(
        {"punch": at, "reader": reader, "number": number, "at": when, "outcome": outcome}
        for at, (reader, number, when, outcome) in enumerate(KEYED, start=1)
    )
    found = SEEN.check(count_seen(recorded, since))
    assert found.sort("reader", "number").rows() == rows
