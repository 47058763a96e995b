"""Time worked beyond 40 hours in a workweek is overtime.

Source: 29 USC 207(a)(1) and 29 CFR 778.101: for a workweek longer than forty hours, the excess; exactly forty is
not more than forty. There is no daily limit in federal law. Where a state's daily overtime was classed before, it is
a premium for hours past a daily limit and counts toward this one (29 USC 207(e)(5) and (h)), so that a week has the
larger of the two counts.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenhand.law.limits import class_steps, past_limit
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.records import Citation

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "us_federal.overtime"
CITES = (Citation("29 USC 207(a)(1)"), Citation("29 CFR 778.101"))
SAYS = "past {limit} hours in the workweek from {was} on: overtime until {now}"


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with the instant from which each paid piece is overtime."""
    return past_limit(spans, site, spans.paid.week, site.by_week(NAME, "weekly_limit", 3600))


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step per piece that became overtime; it moves time between classes and adds none."""
    limit = site.parameter(NAME, "weekly_limit")
    return class_steps(
        before.paid, after.paid, SAYS, lambda piece: {"limit": limit.on(site.week_dates[after.paid.week[piece]])}
    )
