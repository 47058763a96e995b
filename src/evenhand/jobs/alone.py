"""Do something alone: one program at a time, on one machine, whatever becomes of the program."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

__all__ = ["HeldElsewhere", "alone"]


class HeldElsewhere(Exception):  # noqa: N818  (it is an answer: another program is at it)
    """Another program holds the lock, and nobody wants to wait for it."""


@contextmanager
def alone(lock: Path, *, waits: bool = True) -> Iterator[None]:
    """Hold the lock file at `lock` until the block ends; the system lets it go where the program is stopped.

    Raises HeldElsewhere, where it `waits` for nobody, while another program holds it.
    """
    held = os.open(lock, os.O_CREAT | os.O_RDWR | os.O_CLOEXEC, 0o600)
    try:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | (0 if waits else fcntl.LOCK_NB))
        except BlockingIOError as fault:
            raise HeldElsewhere from fault
        yield
    finally:
        os.close(held)
