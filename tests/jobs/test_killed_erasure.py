"""Erasures that are killed: the person is as before, or in no file of the workspace."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from bench.kills_erasure import MOMENTS, RANDOM, kill, length_of, make


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make(tmp_path_factory.mktemp("killed"))


@pytest.mark.parametrize(("moment", "expected"), MOMENTS.items())
def test_an_erasure_killed_at_a_chosen_moment_is_whole(made: Path, moment: str, expected: str) -> None:
    killed = kill(made, moment)
    assert (killed.is_killed, killed.found) == (True, expected)


def test_an_erasure_killed_at_random_is_whole(made: Path) -> None:
    rng, longest_s = random.Random(13), length_of(made)
    for _ in range(3):
        kill(made, RANDOM, rng.uniform(0, longest_s))
