"""How the C library under NumPy keeps the memory of a server that works for days."""

from __future__ import annotations

import ctypes
import sys

__all__ = ["LARGE", "return_large_blocks"]

LARGE = 1 << 22
"""Bytes from which a block is the system's own, and goes back to it as soon as it is free."""

M_MMAP_THRESHOLD = -3  # as in malloc.h


def return_large_blocks() -> bool:
    """Have the columns of millions of punches go back to the system once nobody holds them; whether that was possible.

    Left to itself glibc raises this bound to 32 MiB as large blocks come and go, and keeps what lies below in pieces:
    a third of what a server of 10,000 people holds. Source: mallopt(3). Other C libraries have no such bound.
    """
    if sys.platform == "win32":  # there no library stands for all that are loaded
        return False
    mallopt = getattr(ctypes.CDLL(None), "mallopt", None)
    return mallopt is not None and bool(mallopt(M_MMAP_THRESHOLD, LARGE))
