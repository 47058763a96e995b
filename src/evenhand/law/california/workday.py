"""Cut time at workdays: any fixed 24 hours, which begin at the time of day at which the workweek begins.

Source: Labor Code 500(a) and (b): a workday is a consecutive 24-hour period beginning at the same time each calendar
day, a workweek seven of them beginning with the same calendar day. The line is a civil time, so that over a clock
change the workday has 23 or 25 elapsed hours.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenhand.law.cutting import cut_spans, line_steps
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.records import Citation

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "california.workday"
CITES = (Citation("Cal. Labor Code 500"),)
SAYS = "the time from {was} to {now} falls in the workday that begins at {was}"


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with paid time cut into workdays, and recorded time into workweeks."""
    return cut_spans(spans, site, by_day=True)


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step, without seconds, per span that runs over a workday's beginning."""
    return line_steps(after, SAYS)
