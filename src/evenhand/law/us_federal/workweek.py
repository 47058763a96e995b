"""Cut time where one workweek ends and the next begins; each workweek stands alone.

Source: 29 CFR 778.104 (no averaging) and 778.105 (a fixed and regularly recurring period of 168 hours). The
line is a civil time in the site's zone, so over a clock change the week has 167 or 169 elapsed hours.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenhand.law.cutting import cut_spans, line_steps
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.records import Citation

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "us_federal.workweek"
CITES = (Citation("29 CFR 778.105"),)
SAYS = "the time from {was} to {now} falls in the workweek that begins at {was}"


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with recorded and paid time cut into workweeks."""
    return cut_spans(spans, site, by_day=False)


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step, without seconds, per span that runs over a workweek's beginning."""
    return line_steps(after, SAYS)
