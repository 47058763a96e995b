"""Work past 8 hours in a workday is overtime.

Source: 29 USC 207(j): employment in excess of eight hours in any workday; exactly eight is not in excess.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenhand.law.limits import class_steps, past_daily_limits
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.records import Citation

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "us_eight_and_eighty.daily"
CITES = (Citation("29 USC 207(j)"),)
SAYS = "past {limit} hours in the workday from {was} on: overtime until {now}"


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with daily overtime."""
    return past_daily_limits(spans, site, site.by_day(NAME, "daily_limit", 3600))


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step per stretch past the limit of its workday."""
    limit = site.parameter(NAME, "daily_limit")
    return class_steps(
        before.paid, after.paid, SAYS, lambda piece: {"limit": limit.on(site.day_dates[after.paid.day[piece]])}
    )
