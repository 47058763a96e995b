"""Somebody who reports for a scheduled shift and is given less than half of it is paid for half of it.

Source: wage orders, section 5(A) (second hand): half the usual or scheduled day's work, at least two hours and no more
than four. What is paid beyond the work done is not time worked. A second report on one workday (section 5(B)) and the
exceptions of section 5(C), such as a power failure, are for a person to judge.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np

from evenhand.law.codes import NOTHING
from evenhand.law.jurisdiction import Pass
from evenhand.law.scheduled import reported
from evenhand.law.site import Site
from evenhand.law.spans import Owed, Spans
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["RULE", "reporting_s"]

NAME = "california.reporting_time"
CITES = (Citation("IWC wage orders, section 5(A)"),)
NUMBERS = (
    dated(
        "least",
        "The least that is paid for reporting to a scheduled shift",
        "h",
        (date(2000, 1, 1), 2, "IWC wage orders, section 5(A) (second hand)"),
    ),
    dated(
        "most",
        "The most that is paid for reporting to a scheduled shift",
        "h",
        (date(2000, 1, 1), 4, "IWC wage orders, section 5(A) (second hand)"),
    ),
)
SAYS = (
    "reported for a scheduled shift of {scheduled_for} and worked {worked_for}, less than half: half the shift is "
    "paid, at least {least_for} and at most {most_for}",
)


def reporting_s(scheduled_s: int, worked_s: int, least_s: int, most_s: int) -> int:
    """Return the seconds owed beyond those worked, for somebody who reported for a shift."""
    if 2 * worked_s >= scheduled_s:
        return 0
    return max(0, min(max(scheduled_s // 2, least_s), most_s) - worked_s)


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with what is owed for scheduled shifts cut short; without schedules nothing can be told."""
    if site.planned is None:
        return spans
    least_s, most_s = site.by_day(NAME, "least", 3600), site.by_day(NAME, "most", 3600)
    rows: list[tuple[int, ...]] = []
    for shift in reported(spans, site):
        if any(spans.asks[punch] != NOTHING for punch in shift.punches):
            continue
        day = int(np.searchsorted(site.day_bounds, shift.starts, side="right")) - 1
        owed = reporting_s(shift.ends - shift.starts, shift.worked_s, int(least_s[day]), int(most_s[day]))
        if owed:
            row = (shift.punches[0], day, owed, shift.ends - shift.starts, shift.worked_s, least_s[day], most_s[day])
            rows.append(row)
    punch, day_of, seconds, scheduled, worked, least, most = np.array(rows, np.int64).reshape(-1, 7).T
    words = {"scheduled_for": scheduled, "worked_for": worked, "least_for": least, "most_for": most}
    reason = np.zeros(len(punch), np.int8)
    return replace(spans, owed=(*spans.owed, Owed(CITES, "reporting", punch, day_of, seconds, SAYS, reason, words)))


RULE = Pass(NAME, CITES, "owes", apply, numbers=NUMBERS)
