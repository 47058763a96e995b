"""The room and the minute-by-minute oracle agree on invented weeks of every kind."""

from __future__ import annotations

import pytest

from evenhand.law import compiling
from tests.oracle.held import hold, smaller, told_of
from tests.oracle.invented import invent


def check(seed: int, people: int) -> None:
    _, differing = hold(invent(seed, people))
    assert differing is None, "\n".join(told_of(smaller(differing)))


@pytest.mark.parametrize("batch", range(10))
def test_the_room_agrees_with_the_oracle_on_invented_weeks(batch: int) -> None:
    for seed in range(batch * 3, batch * 3 + 3):
        check(seed, 8)


def test_the_compiled_room_agrees_with_the_oracle_too(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(compiling, "is_large", lambda _punches: True)
    for seed in range(1000, 1006):
        check(seed, 20)
