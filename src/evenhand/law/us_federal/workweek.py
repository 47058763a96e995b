"""Each workweek stands alone, and time worked beyond 40 hours in it is overtime.

Source: 29 CFR 778.104 (no averaging) and 778.105 (a fixed and regularly recurring period of 168 hours); 29 USC
207(a)(1) and 29 CFR 778.101: for a workweek longer than forty hours, the excess; exactly forty is not more than forty.
There is no daily limit in federal law. Where a state's daily overtime was classed before, it is a premium for hours
past a daily limit and counts toward this one (29 USC 207(e)(5) and (h)), so that a week has the larger of the two
counts.
"""

from __future__ import annotations

from datetime import date

from evenhand.law.cutting import Workweek
from evenhand.law.limits import WeeklyLimit
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["OVERTIME", "WORKWEEK"]

WORKWEEK = Workweek("us_federal.workweek", (Citation("29 CFR 778.105"),))

OVERTIME = WeeklyLimit(
    "us_federal.overtime",
    (Citation("29 USC 207(a)(1)"), Citation("29 CFR 778.101")),
    dated(
        "weekly_limit",
        sentence("Hours worked in a workweek beyond which overtime is due"),
        "h",
        (date(1940, 10, 24), 40, "29 USC 207(a)(1); date of effect from memory"),
    ),
    says=sentence("past {limit} hours in the workweek from {was} on: overtime until {now}"),
)
