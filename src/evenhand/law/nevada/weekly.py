"""Ordinary hours past 40 in a workweek are overtime; hours that are overtime already do not count toward the 40.

Source: NRS 608.018: more than 40 hours in any scheduled week of work.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenhand.law.limits import class_steps, past_limit
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.records import Citation

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "nevada.weekly"
CITES = (Citation("NRS 608.018"),)
SAYS = "past {limit} ordinary hours in the workweek from {was} on: overtime until {now}"


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with ordinary time past the weekly limit as overtime."""
    return past_limit(spans, site, spans.paid.week, site.by_week(NAME, "weekly_limit", 3600))


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step per stretch that became overtime."""
    limit = site.parameter(NAME, "weekly_limit")
    return class_steps(
        before.paid, after.paid, SAYS, lambda piece: {"limit": limit.on(site.week_dates[after.paid.week[piece]])}
    )
