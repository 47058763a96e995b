"""Hand-offs that are killed: all of the files with their record, or none of it."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from bench.kills_handoff import IN_WRITING, MOMENTS, kill, lengths_of, make

from evenhand.jobs.workspace import open_workspace
from evenhand.store.handing import handing


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make(tmp_path_factory.mktemp("killed"))


@pytest.mark.parametrize(("moment", "expected"), MOMENTS.items())
def test_a_hand_off_killed_at_a_chosen_moment_is_whole(made: Path, moment: str, expected: str) -> None:
    killed = kill(made, moment)
    assert (killed.is_killed, killed.found) == (True, expected)


def test_a_hand_off_killed_at_any_moment_of_its_writing_is_whole(made: Path) -> None:
    rng, writing_s = random.Random(11), lengths_of(made, 1).writing_s
    struck = [kill(made, IN_WRITING, rng.uniform(0, writing_s)).struck for _ in range(3)]
    assert "before" not in struck


def test_a_transaction_that_is_undone_leaves_no_file(made: Path) -> None:
    workspace = open_workspace(made / "mill")
    lay = {path.name: path.read_bytes() for path in workspace.handoff.iterdir()}
    with (
        pytest.raises(KeyboardInterrupt),
        handing(workspace.store, workspace.handoff, {"a.csv": b"x", "a-note.txt": b"y"}),
    ):
        raise KeyboardInterrupt
    assert {path.name: path.read_bytes() for path in workspace.handoff.iterdir()} == lay
    workspace.close()
