"""A thousand random person-weeks of every jurisdiction against the oracle, as `make oracle` runs a million."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from tests import oracle
from tests.law.oracle_states import LAWS

SEEDS, PEOPLE = range(60), 10


@pytest.fixture(scope="module")
def held() -> Counter[str]:
    """Return how many person-weeks of each jurisdiction agree."""
    weeks: Counter[str] = Counter()
    for seed in SEEDS:
        batch, differing = oracle.hold(oracle.invent(seed, PEOPLE))
        assert differing is None, "\n".join(oracle.told_of(oracle.smaller(differing)))
        weeks += batch
    return weeks


def test_over_a_thousand_weeks_agree_and_every_jurisdiction_is_met(held: Counter[str]) -> None:
    overtime = held["with overtime"]
    assert held.total() - overtime > 1000
    assert overtime > 300
    assert all(held[law] > 20 for law in (*LAWS, "us_federal", "california")), held


def test_what_differs_is_found_made_smaller_and_told() -> None:
    # The room is told of workweeks that begin an hour later than the oracle's: whoever works across that line differs.
    for seed in SEEDS:
        batch = oracle.invent(seed, PEOPLE)
        wrong = replace(batch, rules=replace(batch.rules, workweek_s=(batch.rules.workweek_s + 8 * 3600) % 86_400))
        if (differing := oracle.hold(wrong)[1]) is not None:
            break
    assert differing is not None
    least = oracle.smaller(differing)
    assert len(least.batch.people) == 1
    assert len(least.batch.people[0]) <= len(batch.people[differing.person])
    assert any(line.startswith("expected") for line in oracle.told_of(least))
