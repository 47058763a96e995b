"""How close the dates of a log lie: days that follow each other, or one day of every month."""

from __future__ import annotations

from collections.abc import Sequence

__all__ = ["DENSE", "SPARSE", "YEARLY", "is_denser", "mean_step"]

TOLERATED = 0.05  # of the dates, that are left out of account at either end as mistakes
DENSE, SPARSE = 7.0, 25.0  # [days] from one date of a log to the next, on average: one that is in use, one that is not
CLOSE, YEARLY = 4.0, 300.0  # [days] the same, where a log has few dates


def mean_step(days: Sequence[int | None]) -> tuple[float, int]:
    """Return the mean number of days from a date to the next, a few mistakes apart, and how many dates there are."""
    distinct = sorted({day for day in days if day is not None})
    mistakes = int(TOLERATED * len(distinct))
    kept = distinct[mistakes : len(distinct) - mistakes]
    return ((kept[-1] - kept[0]) / max(1, len(kept) - 1) if kept else 0.0), len(kept)


def is_denser(days: Sequence[int | None], others: Sequence[int | None], *, few: float = YEARLY) -> bool:
    """Return whether dates lie as close as those of a log in use, and read as `others` far apart.

    `few` is how far apart [days] two or three dates have to lie, read so, from one to the next.
    """
    steps, many = mean_step(days)
    other_steps, _ = mean_step(others)
    if many >= 4 and steps <= DENSE and other_steps >= max(SPARSE if many == 4 else 10.0, 4 * steps):
        return True
    return many >= 2 and steps <= CLOSE and other_steps >= few
