"""Do something alone: one program at a time, on one machine, whatever becomes of the program."""

from __future__ import annotations

import fcntl
import math
import os
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

__all__ = ["HeldElsewhere", "alone"]

PAUSE_S = 0.02


class HeldElsewhere(Exception):  # noqa: N818  (it is an answer: another program is at it)
    """Another program holds the lock, and nobody wants to wait for it."""


@contextmanager
def alone(lock: Path, *, wait_s: float = math.inf) -> Iterator[None]:
    """Hold the lock file at `lock` until the block ends; the system lets it go where the program is stopped.

    Raises HeldElsewhere where another program holds it for longer than `wait_s` [s].
    """
    held = os.open(lock, os.O_CREAT | os.O_RDWR | os.O_CLOEXEC, 0o600)
    try:
        _wait_for(held, wait_s)
        yield
    finally:
        os.close(held)


def _wait_for(held: int, wait_s: float) -> None:
    until = time.monotonic() + wait_s
    while True:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError as fault:
            if time.monotonic() >= until:
                raise HeldElsewhere from fault
            time.sleep(PAUSE_S)
        else:
            return
