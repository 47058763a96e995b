"""Which orders of day, month and year the days of a file allow, found from the days alone."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import pairwise

from bench.corpus.moments import order_of, readings

__all__ = ["possible_orders"]


def possible_orders(
    pattern: str, columns: Sequence[Sequence[date]], *, today: date, runs: bool, may_be_future: bool, earliest: int
) -> set[str]:
    """Return the orders in which every day of the columns is a day, none to come, and a log runs one way in time.

    `runs` says that the first column's days truly run one way. Orders by which no day changes count as the true one.
    """
    true = order_of(pattern)
    allowed = {true}
    for order in ("dmy", "mdy", "ymd"):
        if order == true:
            continue
        read = [[readings(pattern, day).get(order) for day in column] for column in columns]
        every = [day for column in read for day in column]
        if None in every or read == [list(column) for column in columns]:
            continue
        days = [day for day in every if day is not None]
        if any(not earliest <= day.year <= 2100 for day in days) or (
            not may_be_future and max(days, default=today) > today
        ):
            continue
        if runs and not _runs([day for day in read[0] if day is not None]):
            continue
        allowed.add(order)
    return allowed


def _runs(days: Sequence[date]) -> bool:
    return all(a <= b for a, b in pairwise(days)) or all(a >= b for a, b in pairwise(days))
