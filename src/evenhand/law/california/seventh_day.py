"""On the seventh workday worked in one workweek the first 8 hours are overtime, the rest double time.

Source: Labor Code 510(a): the first eight hours worked on the seventh day of work in any one workweek, and work in
excess of eight hours on it. It belongs to one workweek, not to any seven days running (2 Cal.5th 1074, 2017, from
memory); a minute of work makes a day of work.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass
from evenhand.law.limits import reclassed
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Spans
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["RULE"]

NAME = "california.seventh_day"
CITES = (Citation("Cal. Labor Code 510(a)"),)
NUMBERS = (
    dated(
        "overtime_hours",
        sentence("Hours on the seventh workday worked in a workweek that are overtime; what follows is double time"),
        "h",
        (date(2000, 1, 1), 8, "Cal. Labor Code 510(a); date of effect from memory"),
    ),
)
SAYS = sentence(
    "on the seventh workday worked in the workweek, from {was} to {now}: {class} ({first} h overtime, then double)"
)


def class_seventh_day(
    person: Any,
    punch: Any,
    week: Any,
    day: Any,
    starts: Any,
    ends: Any,
    first_s: Any,
    overtime_from: Any,
    double_from: Any,
) -> None:
    """Move the bounds of pieces that lie on a seventh workday worked in a workweek."""
    owner, current, today, days, worked = 0, -1, -1, 0, 0
    for piece in range(len(punch)):
        if person[punch[piece]] != owner or week[piece] != current:
            owner, current = person[punch[piece]], week[piece]
            today, days = -1, 0
        if day[piece] != today:
            today = day[piece]
            days += 1
            worked = 0
        if days == 7:
            overtime_from[piece] = starts[piece]
            twice = starts[piece] + max(0, first_s[today] - worked)
            double_from[piece] = min(double_from[piece], twice)
            worked += ends[piece] - starts[piece]


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with seventh days classed; no second falls to a lower class than it had."""
    paid = spans.paid
    overtime_from, double_from = paid.overtime_from.copy(), paid.double_from.copy()
    first_s = site.by_day(NAME, "overtime_hours", 3600)
    inputs = (spans.person, paid.punch, paid.week, paid.day, paid.starts, paid.ends, first_s)
    run_pass(class_seventh_day, inputs, (overtime_from, double_from), large=site.large)
    return replace(spans, paid=replace(paid, overtime_from=overtime_from, double_from=double_from))


def changes(before: Spans, after: Spans, site: Site) -> Changes:
    """Return one row per stretch that the seventh day moved."""
    return reclassed(before, after, SAYS, first=site.by_day(NAME, "overtime_hours")[after.paid.day])


RULE = Pass(NAME, CITES, "classes", apply, changes, NUMBERS)
