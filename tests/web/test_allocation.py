"""Memory of large columns goes back to the system when nobody holds them any more."""

import ctypes
import subprocess
import sys

import pytest

from evenhand.web.allocation import return_large_blocks

# Blocks of 8 MiB of which only the last is kept: below it glibc keeps what is free, once a larger block has been freed.
HELD = """
import sys
import numpy as np
from evenhand.web.allocation import return_large_blocks
def resident():
    return int(open("/proc/self/statm").read().split()[1]) * 4096 / 2**20
if sys.argv[1] == "returned":
    assert return_large_blocks()
np.ones(30 << 17)
before = resident()
blocks = [np.ones(8 << 17) for _ in range(20)]
del blocks[:-1]
print(resident() - before)
"""


def held(how: str) -> float:
    done = subprocess.run([sys.executable, "-c", HELD, how], capture_output=True, text=True, check=True)
    return float(done.stdout)


@pytest.mark.skipif(sys.platform != "linux", reason="other systems' C libraries have no such bound")
def test_freed_columns_go_back_to_the_system() -> None:
    assert held("kept") > 100
    assert held("returned") < 20


def test_a_system_whose_libraries_cannot_be_asked_is_served_without(monkeypatch: pytest.MonkeyPatch) -> None:
    def load(name: str | None) -> None:
        raise TypeError(f"LoadLibrary takes no {name}")

    monkeypatch.setattr(ctypes, "CDLL", load)
    monkeypatch.setattr(sys, "platform", "win32")
    assert not return_large_blocks()
