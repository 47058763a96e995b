"""One function over many partitions, in order: the whole story of running on more than one core."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context
from typing import TypeVar

from evenhand.terms.records import Refusal

__all__ = ["map_partitions"]

Partition = TypeVar("Partition")
Result = TypeVar("Result")


def map_partitions(
    function: Callable[[Partition], Result],
    partitions: Iterable[Partition],
    *,
    split_key: str,
    allowed: Collection[str],
    workers: int = 1,
    processes: bool = False,
) -> list[Result]:
    """Return `function` of each partition, in the order of the partitions.

    `split_key` names the key the partitions were cut along, `allowed` the keys the room declares; another key
    raises Refusal, because cutting there would change the answer. With one worker everything runs here. Threads
    share memory and suit compiled passes; with `processes`, function and partitions must be picklable.
    """
    if split_key not in allowed:
        raise Refusal(f"work cannot be split by {split_key}; it may be split by {' or '.join(sorted(allowed))}.")
    if workers <= 1:
        return [function(partition) for partition in partitions]
    # Spawned, because a forked child inherits locks held by the parent's threads.
    pool: Executor = (
        ProcessPoolExecutor(workers, mp_context=get_context("spawn")) if processes else ThreadPoolExecutor(workers)
    )
    with pool:
        return list(pool.map(function, partitions))
