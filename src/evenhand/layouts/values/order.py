"""Whether 03/04/2026 is in March or in April: decided from the whole file, never guessed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.dates import MIDNIGHT, NUMERIC, parse_date

__all__ = ["Evidence", "is_orderly", "weigh"]

TOLERATED = 0.05  # of the dates that tell, those that may tell otherwise: typing mistakes, each refused with its line
LONGEST_LOG = 1100  # [days]


@dataclass(frozen=True)
class Evidence:
    """What the dates of a file say: `order`, or the first date that can be read in two ways; else neither is needed.

    `against` is a date that contradicts the others, where so many do that no order can be chosen.
    """

    order: str = ""
    ambiguous: str = ""
    against: str = ""


def weigh(texts: Iterable[str], first_year: int) -> Evidence:
    """Return what the distinct dates of a file say about their order."""
    told: dict[str, list[str]] = {"dmy": [], "mdy": []}
    open_ones: list[str] = []
    year_first: list[str] = []
    numeric = 0
    for text in texts:
        found = NUMERIC.match(MIDNIGHT.sub("", text))
        if found is None or len(found[1]) > 2:
            continue
        numeric += 1
        day = {order: _read(text, order, first_year) for order in ("dmy", "mdy", "ymd")}
        if day["dmy"] is None and day["mdy"] is None:
            if day["ymd"] is not None:
                year_first.append(text)
        elif day["dmy"] is None or day["mdy"] is None:
            told["mdy" if day["dmy"] is None else "dmy"].append(text)
        elif day["dmy"] != day["mdy"]:
            open_ones.append(text)
    if numeric and (len(year_first) > TOLERATED * numeric or _years_stand_first(texts, told["dmy"], first_year)):
        return Evidence("ymd")
    less, more = sorted(told, key=lambda order: len(told[order]))
    if len(told[less]) > TOLERATED * len(told[more]):
        return Evidence(ambiguous=told[more][0], against=told[less][0])
    if told[more]:
        return Evidence(more)
    return Evidence(ambiguous=open_ones[0]) if open_ones else Evidence()


def _read(text: str, order: str, first_year: int) -> int | None:
    try:
        return parse_date(text, order, first_year)
    except Unfit:
        return None


def _years_stand_first(texts: Iterable[str], told: Sequence[str], first_year: int) -> bool:
    """Return whether two-digit years stand first: read so, the dates lie close; read day first, decades apart."""
    if len(told) < 2:
        return False
    year_first = [_read(text, "ymd", first_year) for text in texts]
    day_first = [_read(text, "dmy", first_year) for text in texts]
    if None in year_first:
        return False
    spans = [max(days) - min(days) for days in ([d for d in each if d is not None] for each in (year_first, day_first))]
    return spans[0] <= LONGEST_LOG < spans[1]


def is_orderly(days: npt.NDArray[np.int64], readers: npt.NDArray[np.int32]) -> bool:
    """Return whether each reader's days run one way, read so, over a plausible span; few may stand out of order."""
    if len(days) < 3 or days.max() - days.min() > LONGEST_LOG:
        return False
    sequence = np.argsort(readers, kind="stable")
    same = np.diff(readers[sequence]) == 0
    steps = np.diff(days[sequence])[same]
    forward, backward = int((steps > 0).sum()), int((steps < 0).sum())
    return forward + backward >= 2 and min(forward, backward) <= 0.02 * (forward + backward)
