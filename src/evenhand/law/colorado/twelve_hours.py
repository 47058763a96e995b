"""Work past 12 hours in a workday, or past 12 consecutive hours, is overtime: the larger count where both concern it.

Source: 7 CCR 1103-1, rule 4.1.1(B) and (C): hours in excess of 12 hours per workday, or of 12 consecutive hours without
regard to when the workday starts and ends, duty-free meal periods left out; whichever results in the greater payment
"in any particular situation". Our reading: a situation is work that shares workdays or consecutive hours; a long
workday and a long night elsewhere in the week are two, and both count. Hours off that are longer than a meal end what
is consecutive.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import numpy.typing as npt

from evenhand.law.jurisdiction import Pass
from evenhand.law.limits import past_daily_limits, past_limit, reclassed
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Pieces, Spans
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["RULE"]

NAME = "colorado.twelve_hours"
CITES = (Citation("7 CCR 1103-1, rule 4.1.1"),)
NUMBERS = (
    dated(
        "daily_limit",
        sentence("Hours worked in a workday beyond which overtime is due"),
        "h",
        (date(2000, 1, 1), 12, "7 CCR 1103-1, rule 4.1.1; date of effect from memory"),
    ),
    dated(
        "consecutive_limit",
        sentence("Consecutive hours beyond which overtime is due, duty-free meal periods left out"),
        "h",
        (date(2000, 1, 1), 12, "7 CCR 1103-1, rule 4.1.1; date of effect from memory"),
    ),
    dated(
        "longest_meal",
        sentence("Minutes off that may still be a meal period, so that hours before and after them are consecutive"),
        "min",
        (date(2000, 1, 1), 120, "a reading of ours of 7 CCR 1103-1, rule 4.1.1(C), which names no length"),
    ),
)
SAYS = sentence(
    "past {limit} hours in the workday, or {consecutive} consecutive hours, from {was} on: overtime until {now}"
)


def _runs(spans: Spans, site: Site) -> tuple[Column, Column]:
    """Return each piece's consecutive hours, from 0 over all people, and the limit [s] of the workday they begin in."""
    paid = spans.paid
    moved = _moved(spans.shift[paid.punch]) | _moved(spans.person[paid.punch])
    moved[1:] |= paid.starts[1:] - paid.ends[:-1] > site.by_day(NAME, "longest_meal", 60)[paid.day[1:]]
    limits = site.by_day(NAME, "consecutive_limit", 3600)[paid.day[moved]]
    return np.cumsum(moved) - 1, limits


def _situations(spans: Spans, run: Column) -> Column:
    """Return each piece's situation, from 0: work that shares a workday, or consecutive hours, with the work before."""
    paid = spans.paid
    return np.cumsum(_moved(spans.person[paid.punch]) | _moved(paid.day) & _moved(run)) - 1


def _moved(column: Column) -> npt.NDArray[np.bool_]:
    moved: npt.NDArray[np.bool_] = np.diff(column, prepend=-1) != 0
    return moved


def _overtime_of(situation: Column, pieces: Pieces) -> Column:
    """Return the overtime of each situation [s]."""
    return np.bincount(situation, weights=(pieces.ends - pieces.overtime_from).astype(np.float64))


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with the larger of the two counts of each situation as overtime."""
    if not len(spans.paid.punch):
        return spans
    run, limits = _runs(spans, site)
    situation = _situations(spans, run)
    daily = past_daily_limits(spans, site, site.by_day(NAME, "daily_limit", 3600)).paid
    consecutive = past_limit(spans, site, run, limits).paid
    longer = (_overtime_of(situation, consecutive) > _overtime_of(situation, daily))[situation]
    overtime_from = np.where(longer, consecutive.overtime_from, daily.overtime_from)
    return replace(spans, paid=replace(spans.paid, overtime_from=overtime_from))


def changes(before: Spans, after: Spans, site: Site) -> Changes:
    """Return one row per stretch that became overtime."""
    day = after.paid.day
    limit, consecutive = (site.by_day(NAME, name)[day] for name in ("daily_limit", "consecutive_limit"))
    return reclassed(before, after, SAYS, limit=limit, consecutive=consecutive)


RULE = Pass(NAME, CITES, "classes", apply, changes, NUMBERS)
