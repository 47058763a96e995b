"""Every command that writes, killed: its ledger is proved, nothing is there by halves, and a repeat doubles nothing."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
STORES = ["sqlite", *(["postgresql"] if os.environ.get("EVENHAND_TEST_POSTGRES") else [])]


@pytest.mark.parametrize("store", STORES)
def test_twenty_commands_killed_are_whole_and_doubled_by_nobody(store: str) -> None:
    # In a program of its own, as forks are made of one that has run nothing yet.
    run = [sys.executable, "-m", "bench.kills", "writers", "20", "--store", store]
    ended = subprocess.run(run, cwd=ROOT, capture_output=True, text=True, check=False)
    assert ended.returncode == 0, ended.stdout[-2000:] + ended.stderr[-2000:]
    last = ended.stdout.splitlines()[-1]
    assert last.startswith("20 commands, ")
    assert int(last.split()[2]) >= 15, last  # how many were killed before they ended
