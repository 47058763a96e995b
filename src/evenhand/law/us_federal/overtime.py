"""Time worked beyond 40 hours in a workweek is overtime.

Source: 29 USC 207(a)(1) and 29 CFR 778.101: for a workweek longer than forty hours, the excess; exactly forty is
not more than forty. There is no daily limit in federal law.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from evenhand.law.compiling import run_pass
from evenhand.law.parameters import read_parameters
from evenhand.law.spans import Site, Spans
from evenhand.terms.records import Citation

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "us_federal.overtime"
CITES = (Citation("29 USC 207(a)(1)"), Citation("29 CFR 778.101"))
SAYS = "past {limit} hours in the workweek from {was} on: overtime until {now}"


def class_overtime(person: Any, act: Any, week: Any, starts: Any, ends: Any, limits_s: Any, overtime_from: Any) -> None:
    """Fill the instant from which each piece lies past its week's limit; its end where none of it does."""
    worked, owner, current = 0, -1, -1
    for piece in range(len(act)):
        if person[act[piece]] != owner or week[piece] != current:
            owner, current = person[act[piece]], week[piece]
            worked = 0
        left = max(0, limits_s[current] - worked)
        overtime_from[piece] = min(ends[piece], starts[piece] + left)
        worked += ends[piece] - starts[piece]


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with the instant from which each paid piece is overtime."""
    limit = read_parameters(__package__, "overtime")["weekly_limit"]
    limits_s = np.array([limit.on(day) * 3600 for day in site.week_dates], dtype=np.int64)
    paid = spans.paid
    overtime_from = np.empty(len(paid.act), np.int64)
    inputs = (spans.person, paid.act, paid.week, paid.starts, paid.ends, limits_s)
    run_pass(class_overtime, inputs, (overtime_from,), large=site.large)
    return replace(spans, paid=replace(paid, overtime_from=overtime_from))


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step per piece that became overtime; it moves time between classes and adds none."""
    limit = read_parameters(__package__, "overtime")["weekly_limit"]
    paid = after.paid
    for piece in np.flatnonzero(paid.overtime_from < paid.ends):
        starts, ends = int(paid.overtime_from[piece]), int(paid.ends[piece])
        yield {
            "act": int(paid.act[piece]),
            "other": int(paid.act[piece]) + 1,
            "starts": starts,
            "ends": ends,
            "seconds": 0,
            "from_class": "ordinary",
            "to_class": "overtime",
            "says": SAYS,
            "words": {"was": starts, "now": ends, "limit": limit.on(site.week_dates[paid.week[piece]])},
        }
