"""The date order of a file: as its layout states, as its dates show, or as the order of its log decides."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from evenhand.layouts.values.coded import Codes
from evenhand.layouts.values.dates import ORDER_WORDS
from evenhand.layouts.values.moments import Moments, read_civil
from evenhand.layouts.values.order import is_orderly, weigh
from evenhand.terms.records import Refusal
from evenhand.terms.zones import DAY_S

__all__ = ["choose_order"]


def choose_order(
    name: str, texts: Iterable[str], first_year: int, log: Moments | None, readers: Codes | None
) -> tuple[str, bool]:
    """Return the order of the numeric dates, and whether only the order of the log told it.

    `texts` are the distinct dates of the file; `log` is a column of punches in the order of the file, whose rows
    belong to `readers`. The order is '' where no date needs one. Raises Refusal where nothing decides it.
    """
    evidence = weigh(list(texts), first_year)
    if evidence.against:
        raise Refusal(
            f"{name}: {evidence.ambiguous!r} and {evidence.against!r} put day and month in different order; "
            'correct the file, or state the order in the layout (date_order = "dmy" or "mdy").'
        )
    if not evidence.ambiguous:
        return evidence.order, False
    if log is not None and readers is not None:
        orderly = [order for order in ("dmy", "mdy") if _runs_in_order(log, readers, order)]
        if len(orderly) == 1:
            return orderly[0], True
    raise Refusal(
        f"{name}: {evidence.ambiguous!r} can be day-month or month-day, and no other date of the file decides it; "
        'state the order in the layout (date_order = "dmy" or "mdy").'
    )


def order_notice(order: str) -> str:
    """Return what is said where only the order of the log told how its dates are meant."""
    return (
        f"Dates were read as {ORDER_WORDS[order]}, because only so does the log run in order of time; "
        f'if that is right, state it in the layout (date_order = "{order}").'
    )


def _runs_in_order(log: Moments, readers: Codes, order: str) -> bool:
    civil = read_civil(log, order)
    sound = civil.faults == 0
    # A reading under which dates fail is no reading: the file's other dates would have decided it.
    return bool(sound.any()) and is_orderly((civil.local // DAY_S)[sound], readers[sound].astype(np.int32))
