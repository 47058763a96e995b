"""Cut time at workdays: a fixed civil 24 hours that begins at the time of day at which the workweek begins.

Source: 29 CFR 778.601(b), from memory: a workday for this system is any fixed 24 consecutive hours.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenhand.law.cutting import cut_spans, line_steps
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.records import Citation

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "us_eight_and_eighty.workday"
CITES = (Citation("29 CFR 778.601"),)
SAYS = "the time from {was} to {now} falls in the workday that begins at {was}"


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with paid time cut into workdays, and recorded time into workweeks."""
    return cut_spans(spans, site, by_day=True)


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step, without seconds, per span that runs over a workday's beginning."""
    return line_steps(after, SAYS)
