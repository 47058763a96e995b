"""Work past 8 hours in a workday is overtime, past 12 hours double time.

Source: Labor Code 510(a): any work in excess of eight hours in one workday at one and a half times, in excess of
twelve at twice the regular rate. Exactly eight, or twelve, is not in excess. Under an alternative workweek schedule
that was properly adopted the first limit may be up to 10 hours (Labor Code 511, from memory); double time past 8 hours
on a day outside such a schedule is not computed.
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

NAME = "california.daily"
CITES = (Citation("Cal. Labor Code 510(a)"),)
SAYS = "past a limit of the workday ({over} h overtime, {twice} h double time) from {was} to {now}: {class}"


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with daily overtime and double time; raises Refusal for too long an alternative day."""
    over_s = site.by_day(NAME, "daily_limit", 3600)
    if alternative := site.rules.alternative_day_s:
        longest = site.by_day(NAME, "alternative_limit", 3600)
        if alternative < over_s.min() or alternative > longest.min():
            raise Refusal(
                f"site {site.rules.site}: alternative_day_hours is {alternative / 3600:g}; an alternative schedule has "
                f"days of more than 8 and up to {longest.min() // 3600} hours (Cal. Labor Code 511); correct it."
            )
        over_s = np.full_like(over_s, alternative)
    return past_daily_limits(spans, site, over_s, site.by_day(NAME, "double_limit", 3600))


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step per stretch past a limit of its workday."""
    over, twice = site.parameter(NAME, "daily_limit"), site.parameter(NAME, "double_limit")

    def words(piece: int) -> dict[str, Any]:
        day = site.day_dates[after.paid.day[piece]]
        alternative = site.rules.alternative_day_s
        return {"over": f"{alternative / 3600:g}" if alternative else over.on(day), "twice": twice.on(day)}

    return class_steps(before.paid, after.paid, SAYS, words)
