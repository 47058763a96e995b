"""Work past 8 hours in a day is overtime.

Source: AS 23.10.060(b). Under an approved voluntary flexible work plan days may have up to 10 hours without daily
overtime (AS 23.10.060(d)(14) and 8 AAC 15.102): the site's `alternative_day_s`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from evenhand.law.limits import class_steps, past_daily_limits
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.records import Citation, Refusal

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "alaska.daily"
CITES = (Citation("AS 23.10.060"),)
SAYS = "past {limit} hours in the workday from {was} on: overtime until {now}"


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with daily overtime; raises Refusal for too long a day of a flexible plan."""
    over_s = site.by_day(NAME, "daily_limit", 3600)
    if plan := site.rules.alternative_day_s:
        longest = int(site.by_day(NAME, "plan_limit").min())
        if plan < over_s.min() or plan > longest * 3600:
            raise Refusal(
                f"site {site.rules.site}: alternative_day_hours is {plan / 3600:g}; a flexible work plan has days of "
                f"more than 8 and up to {longest} hours (8 AAC 15.102); correct it."
            )
        over_s = np.full_like(over_s, plan)
    return past_daily_limits(spans, site, over_s)


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step per stretch past the limit of its workday."""
    limit, plan = site.parameter(NAME, "daily_limit"), site.rules.alternative_day_s

    def words(piece: int) -> dict[str, Any]:
        return {"limit": f"{plan / 3600:g}" if plan else limit.on(site.day_dates[after.paid.day[piece]])}

    return class_steps(before.paid, after.paid, SAYS, words)
