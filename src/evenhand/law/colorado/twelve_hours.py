"""Work past 12 hours in a workday, or past 12 consecutive hours, is overtime: for each workweek the larger count.

Source: 7 CCR 1103-1, rule 4.1.1(B) and (C): hours in excess of 12 hours per workday, or of 12 consecutive hours without
regard to when the workday starts and ends, duty-free meal periods left out; whichever results in the greater payment.
Hours are consecutive within a shift.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from evenhand.law.limits import class_steps, past_daily_limits, past_limit
from evenhand.law.site import Site
from evenhand.law.spans import Column, Pieces, Spans
from evenhand.terms.records import Citation

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "colorado.twelve_hours"
CITES = (Citation("7 CCR 1103-1, rule 4.1.1"),)
SAYS = "past {limit} hours in the workday, or {consecutive} consecutive hours, from {was} on: overtime until {now}"


def _shifts(spans: Spans, site: Site) -> tuple[Column, Column]:
    """Return each piece's shift, from 0 over all people, and the limit [s] of the workday in which it begins."""
    paid = spans.paid
    moved = np.diff(spans.shift[paid.act], prepend=-1) | np.diff(spans.person[paid.act], prepend=-1)
    begins = np.flatnonzero(moved)
    limits = site.by_day(NAME, "consecutive_limit", 3600)[paid.day[begins]]
    return np.cumsum(moved != 0) - 1, limits


def _overtime_by_week(spans: Spans, pieces: Pieces) -> tuple[Column, Column]:
    """Return each piece's person-week, from 0, and the overtime of each [s]."""
    moved = np.diff(pieces.week, prepend=-1) | np.diff(spans.person[pieces.act], prepend=-1)
    week = np.cumsum(moved != 0) - 1
    return week, np.bincount(week, weights=(pieces.ends - pieces.overtime_from).astype(np.float64))


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with the larger of the two counts of each person's workweek as overtime."""
    if not len(spans.paid.act):
        return spans
    daily = past_daily_limits(spans, site, site.by_day(NAME, "daily_limit", 3600)).paid
    consecutive = past_limit(spans, site, *_shifts(spans, site)).paid
    week, by_day = _overtime_by_week(spans, daily)
    _, by_shift = _overtime_by_week(spans, consecutive)
    longer = (by_shift > by_day)[week]
    overtime_from = np.where(longer, consecutive.overtime_from, daily.overtime_from)
    return replace(spans, paid=replace(spans.paid, overtime_from=overtime_from))


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step per stretch that became overtime."""
    limit, consecutive = site.parameter(NAME, "daily_limit"), site.parameter(NAME, "consecutive_limit")

    def words(piece: int) -> dict[str, Any]:
        day = site.day_dates[after.paid.day[piece]]
        return {"limit": limit.on(day), "consecutive": consecutive.on(day)}

    return class_steps(before.paid, after.paid, SAYS, words)
