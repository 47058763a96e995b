"""Work past 12 hours in a workday, or past 12 consecutive hours, is overtime: for each workweek the larger count.

Source: 7 CCR 1103-1, rule 4.1.1(B) and (C): hours in excess of 12 hours per workday, or of 12 consecutive hours without
regard to when the workday starts and ends, duty-free meal periods left out; whichever results in the greater payment.
Hours are consecutive within a shift.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np

from evenhand.law.jurisdiction import Pass
from evenhand.law.limits import past_daily_limits, past_limit, reclassed
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Pieces, Spans
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["RULE"]

NAME = "colorado.twelve_hours"
CITES = (Citation("7 CCR 1103-1, rule 4.1.1"),)
NUMBERS = (
    dated(
        "daily_limit",
        "Hours worked in a workday beyond which overtime is due",
        "h",
        (date(2000, 1, 1), 12, "7 CCR 1103-1, rule 4.1.1; date of effect from memory"),
    ),
    dated(
        "consecutive_limit",
        "Consecutive hours beyond which overtime is due, duty-free meal periods left out",
        "h",
        (date(2000, 1, 1), 12, "7 CCR 1103-1, rule 4.1.1; date of effect from memory"),
    ),
)
SAYS = "past {limit} hours in the workday, or {consecutive} consecutive hours, from {was} on: overtime until {now}"


def _shifts(spans: Spans, site: Site) -> tuple[Column, Column]:
    """Return each piece's shift, from 0 over all people, and the limit [s] of the workday in which it begins."""
    paid = spans.paid
    moved = np.diff(spans.shift[paid.punch], prepend=-1) | np.diff(spans.person[paid.punch], prepend=-1)
    begins = np.flatnonzero(moved)
    limits = site.by_day(NAME, "consecutive_limit", 3600)[paid.day[begins]]
    return np.cumsum(moved != 0) - 1, limits


def _overtime_by_week(spans: Spans, pieces: Pieces) -> tuple[Column, Column]:
    """Return each piece's person-week, from 0, and the overtime of each [s]."""
    moved = np.diff(pieces.week, prepend=-1) | np.diff(spans.person[pieces.punch], prepend=-1)
    week = np.cumsum(moved != 0) - 1
    return week, np.bincount(week, weights=(pieces.ends - pieces.overtime_from).astype(np.float64))


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with the larger of the two counts of each person's workweek as overtime."""
    if not len(spans.paid.punch):
        return spans
    daily = past_daily_limits(spans, site, site.by_day(NAME, "daily_limit", 3600)).paid
    consecutive = past_limit(spans, site, *_shifts(spans, site)).paid
    week, by_day = _overtime_by_week(spans, daily)
    _, by_shift = _overtime_by_week(spans, consecutive)
    longer = (by_shift > by_day)[week]
    overtime_from = np.where(longer, consecutive.overtime_from, daily.overtime_from)
    return replace(spans, paid=replace(spans.paid, overtime_from=overtime_from))


def changes(before: Spans, after: Spans, site: Site) -> Changes:
    """Return one row per stretch that became overtime."""
    day = after.paid.day
    limit, consecutive = (site.by_day(NAME, name)[day] for name in ("daily_limit", "consecutive_limit"))
    return reclassed(before, after, SAYS, limit=limit, consecutive=consecutive)


RULE = Pass(NAME, CITES, "classes", apply, changes, NUMBERS)
