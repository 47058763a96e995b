"""Work on the parts of something large side by side, on as many threads as the frames' own library uses."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

import polars as pl

__all__ = ["on_all_cores"]

Part = TypeVar("Part")
Result = TypeVar("Result")


def on_all_cores(work: Callable[[Part], Result], parts: Iterable[Part]) -> list[Result]:
    """Return what `work` makes of each part, in order; a part alone is worked on at once, without a thread.

    Worth it where `work` lets go of the interpreter most of the time, as compiled passes over columns do.
    """
    parts = list(parts)
    threads = min(len(parts), pl.thread_pool_size())
    if threads < 2:
        return [work(part) for part in parts]
    with ThreadPoolExecutor(threads) as pool:
        return list(pool.map(work, parts))
