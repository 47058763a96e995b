"""Cut time where one workweek ends and the next begins.

Source: Directive 2003/88/EC counts in periods of seven days; where they begin is a setting of the site. The line is
a civil time in the site's zone, so over a clock change the week has 167 or 169 elapsed hours.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenhand.law.cutting import cut_spans, line_steps
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.records import Citation

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "eu_2003_88.workweek"
CITES = (Citation("Directive 2003/88/EC, art. 2"),)
SAYS = "the time from {was} to {now} falls in the workweek that begins at {was}"


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with recorded and paid time cut into workweeks."""
    return cut_spans(spans, site, by_day=False)


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step, without seconds, per span that runs over a workweek's beginning."""
    return line_steps(after, SAYS)
