"""Somebody who reports for a scheduled shift and is given less than half of it is paid for half of it.

Source: wage orders, section 5(A) (second hand): half the usual or scheduled day's work, at least two hours and no more
than four. What is paid beyond the work done is not time worked. A second report on one workday (section 5(B)) and the
exceptions of section 5(C), such as a power failure, are for a person to judge.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np

from evenhand.law.jurisdiction import Pass
from evenhand.law.scheduled import reported
from evenhand.law.site import Site
from evenhand.law.spans import Column, Owed, Spans
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


def reporting_s(scheduled_s: Column, worked_s: Column, least_s: Column, most_s: Column) -> Column:
    """Return the seconds owed beyond those worked, for who reported for a shift: none where half of it was worked."""
    half = np.minimum(np.maximum(scheduled_s // 2, least_s), most_s)
    owed: Column = np.where(2 * worked_s >= scheduled_s, 0, np.maximum(0, half - worked_s))
    return owed


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with what is owed for scheduled shifts cut short; without schedules nothing can be told."""
    if site.planned is None:
        return spans
    least_s, most_s = site.by_day(NAME, "least", 3600), site.by_day(NAME, "most", 3600)
    punch, plan, worked = reported(spans, site.planned, large=site.large)
    starts, ends = site.planned.starts[plan], site.planned.ends[plan]
    day = np.searchsorted(site.day_bounds, starts, side="right") - 1
    least, most, scheduled = least_s[day], most_s[day], ends - starts
    seconds = reporting_s(scheduled, worked, least, most)
    short = np.flatnonzero(seconds)
    words = {"scheduled_for": scheduled, "worked_for": worked, "least_for": least, "most_for": most}
    said = {word: column[short] for word, column in words.items()}
    reason = np.zeros(len(short), np.int8)
    owed = Owed(CITES, "reporting", punch[short], day[short], seconds[short], SAYS, reason, said)
    return replace(spans, owed=(*spans.owed, owed))


RULE = Pass(NAME, CITES, "owes", apply, numbers=NUMBERS)
