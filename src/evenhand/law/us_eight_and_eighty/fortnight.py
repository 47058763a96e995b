"""Ordinary hours past 80 in the period of 14 days are overtime.

Source: 29 USC 207(j) and 29 CFR 778.601: employment in excess of eighty hours in a period of fourteen consecutive days,
premium for daily overtime being creditable toward it. A period is two workweeks, counted from a date that the site
names. A lasting change of period, for which both ways are computed and the better is paid, is not computed.
"""

from __future__ import annotations

from datetime import date

import numpy as np

from evenhand.law.jurisdiction import Pass
from evenhand.law.limits import past_limit, reclassed
from evenhand.law.periods import periods_from
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Spans
from evenhand.terms.languages import sentence, told
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation, Refusal

__all__ = ["RULE"]

NAME = "us_eight_and_eighty.fortnight"
CITES = (Citation("29 USC 207(j)"), Citation("29 CFR 778.601"))
LIMIT = dated(
    "period_limit",
    sentence("Ordinary hours worked in the 14 days beyond which overtime is due"),
    "h",
    (date(1967, 2, 1), 80, "29 USC 207(j); Pub. L. 89-601, section 602, from memory"),
)
SAYS = sentence("past {limit} ordinary hours in the 14 days from {was} on: overtime until {now}")


def _anchor(site: Site) -> date:
    anchor = site.rules.fortnight
    if anchor is None or anchor.weekday() != site.rules.workweek_day:
        raise Refusal(
            told(
                "{named}: the 8 and 80 system counts in fixed periods of 14 days (29 USC 207(j)); name the "
                "first day of any one, on which a workweek begins, as fortnight_begins.",
                named=site.rules.named,
            )
        )
    return anchor


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with ordinary time past the limit of its 14 days as overtime."""
    period_of_week, firsts = periods_from(_anchor(site), 2, site)
    limit = site.parameter(NAME, LIMIT.name)
    limits_s = np.array([limit.on(day) * 3600 for day in firsts], np.int64)
    return past_limit(spans, site, period_of_week[spans.paid.week], limits_s)


def changes(before: Spans, after: Spans, site: Site) -> Changes:
    """Return one row per stretch that became overtime."""
    return reclassed(before, after, SAYS, limit=site.by_week(NAME, LIMIT.name)[after.paid.week])


RULE = Pass(NAME, CITES, "classes", apply, changes, (LIMIT,))
