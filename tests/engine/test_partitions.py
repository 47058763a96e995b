"""Partitions run here, in threads or in processes, in order; a wrong split key is refused."""

from __future__ import annotations

import pytest

from evenhand.engine import map_partitions
from evenhand.law import SPLIT_KEY
from evenhand.terms.records import Refusal


def square(n: int) -> int:
    return n * n


@pytest.mark.parametrize(("workers", "processes"), [(1, False), (2, False), (2, True)])
def test_results_come_in_the_order_of_the_partitions(workers: int, processes: bool) -> None:
    found = map_partitions(
        square, [3, 1, 2], split_key="person", allowed=("person",), workers=workers, processes=processes
    )
    assert found == [9, 1, 4]


def test_hours_may_be_split_by_person_and_not_by_site() -> None:
    # 29 CFR 778.103: one person's hours at two sites are one workweek.
    with pytest.raises(Refusal, match="cannot be split by site"):
        map_partitions(square, [1], split_key="site", allowed=(SPLIT_KEY,))


def test_a_fault_in_one_partition_is_raised() -> None:
    with pytest.raises(ZeroDivisionError):
        map_partitions(lambda n: 1 // n, [1, 0], split_key="person", allowed=("person",), workers=2)
