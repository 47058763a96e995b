"""Hours past the maximum of a work period of 7 to 28 days are overtime.

Source: 29 USC 207(k); 29 CFR 553.224 (any established and recurring period of 7 to 28 consecutive days, fixed once it
is), 553.230 (212 hours in 28 days for fire protection, 171 for law enforcement; for a shorter period as many as bear
the same relation, to the nearest whole hour) and 553.231(b) (hours are balanced over the whole period). The published
table has 86 for law enforcement in 14 days, where the relation is 85.5 exactly: half an hour goes up. Its 141 hours for
23 days do not bear the relation (140.46); such lengths are not computed here.
"""

from __future__ import annotations

from datetime import date

import numpy as np

from evenhand.law.jurisdiction import Pass
from evenhand.law.limits import past_limit, reclassed
from evenhand.law.periods import periods_from
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Spans
from evenhand.terms.languages import sentence, told
from evenhand.terms.parameters import Parameter, dated
from evenhand.terms.records import Citation, Refusal

__all__ = ["RULE", "maximum_hours"]

NAME = "us_public_safety.work_period"
CITES = (Citation("29 USC 207(k)"), Citation("29 CFR 553.230"))
FROM_MEMORY = "29 CFR 553.230; 29 USC 207(k), in force for public agencies by Pub. L. 99-150, date from memory"
LONGEST = 28
COMPUTED = (7, 14, 21, LONGEST)
"""Lengths [days] that are computed: whole workweeks, since pay is by the workweek."""

MEANINGS = {
    "fire_protection": sentence("Hours worked in 28 days of fire protection beyond which overtime is due"),
    "law_enforcement": sentence("Hours worked in 28 days of law enforcement beyond which overtime is due"),
}


def _limit(kind: str, hours: int) -> Parameter:
    return dated(kind, MEANINGS[kind], "h", (date(1986, 4, 15), hours, FROM_MEMORY))


LIMITS = {kind: _limit(kind, hours) for kind, hours in (("fire_protection", 212), ("law_enforcement", 171))}
SAYS = sentence("past {limit} hours in the work period of {days} days from {was} on: overtime until {now}")


def maximum_hours(in_longest: int, days: int) -> int:
    """Return the maximum hours of a work period of `days`, where 28 days have `in_longest`; half an hour goes up."""
    return (2 * in_longest * days + LONGEST) // (2 * LONGEST)


def _anchor(site: Site) -> date:
    """Return the first day of any period; raises Refusal where what the rule needs is not set or not computed."""
    rules = site.rules
    if rules.public_safety not in LIMITS:
        raise Refusal(
            told(
                "{named}: the hours of a work period differ by the kind of work (29 CFR 553.230); write "
                "public_safety = one of {known}.",
                named=rules.named,
                known=", ".join(LIMITS),
            )
        )
    if rules.work_period_days not in COMPUTED:
        seen = (
            told("work_period_days is {days}", days=rules.work_period_days)
            if rules.work_period_days
            else told("it has none")
        )
        raise Refusal(
            told(
                "{named}: public safety counts in fixed work periods (29 USC 207(k)), and {seen}; periods of "
                "7, 14, 21 or 28 days are computed, since pay is by the workweek: name one as "
                "work_period_days.",
                named=rules.named,
                seen=seen,
            )
        )
    anchor = rules.work_period
    if anchor is None or anchor.weekday() != rules.workweek_day:
        raise Refusal(
            told(
                "{named}: a work period is fixed (29 CFR 553.224); name the first day of any one, on which a "
                "workweek begins, as work_period_begins.",
                named=rules.named,
            )
        )
    return anchor


def _maxima(site: Site) -> tuple[Column, list[int]]:
    """Return the period of each workweek, and each period's maximum [h]."""
    periods, firsts = periods_from(_anchor(site), site.rules.work_period_days // 7, site)
    limit = site.parameter(NAME, site.rules.public_safety)
    return periods, [maximum_hours(limit.on(day), site.rules.work_period_days) for day in firsts]


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with time past the maximum of its work period as overtime."""
    period_of_week, maxima = _maxima(site)
    return past_limit(spans, site, period_of_week[spans.paid.week], np.array(maxima, np.int64) * 3600)


def changes(before: Spans, after: Spans, site: Site) -> Changes:
    """Return one row per stretch that became overtime."""
    period_of_week, maxima = _maxima(site)
    limit = np.array(maxima, np.int64)[period_of_week[after.paid.week]]
    return reclassed(before, after, SAYS, limit=limit, days=site.rules.work_period_days)


RULE = Pass(NAME, CITES, "classes", apply, changes, tuple(LIMITS.values()))
