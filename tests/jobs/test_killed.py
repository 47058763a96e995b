"""Takes, backs, agains and rebuilds that are killed: whole before or whole after, and nothing is left behind."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from bench.kills import CHOSEN, DEEDS, RANDOM, after_of, kill, make


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make(tmp_path_factory.mktemp("killed"))


@pytest.fixture(scope="module")
def after(made: Path) -> dict[str, dict[str, object]]:
    return {deed: after_of(made, deed) for deed in DEEDS}


@pytest.mark.parametrize(("deed", "moment"), CHOSEN)
def test_a_deed_killed_at_a_chosen_moment_is_whole(
    made: Path, after: dict[str, dict[str, object]], deed: str, moment: str
) -> None:
    killed = kill(made, deed, moment, after[deed])
    assert killed.is_killed
    is_done = moment == "after the commit" or (deed != "take" and moment == "once refused rows are written beside")
    assert killed.found == ("after" if is_done else "before")


@pytest.mark.parametrize("deed", DEEDS)
def test_a_deed_killed_at_random_is_whole(made: Path, after: dict[str, dict[str, object]], deed: str) -> None:
    rng = random.Random(deed)
    for _ in range(2):
        kill(made, deed, RANDOM, after[deed], rng.uniform(0, 0.15))
