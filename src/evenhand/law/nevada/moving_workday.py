"""Below one and a half times the minimum wage, work past 8 hours in 24 from when work began is overtime.

Source: NRS 608.018 (eight hours in any workday, for people paid less than 1.5 times the minimum wage; four days of ten
hours by agreement have no daily overtime) and 608.0126 (a workday is 24 consecutive hours that begin when the person
begins work). So the workday moves with the person; that the next one begins with the first work after 24 hours, at
once where the person is at work, is our reading, no published example being known. Without a known rate the daily
limit is applied.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np

from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass
from evenhand.law.limits import reclassed
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Pieces, Spans
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation
from evenhand.terms.zones import DAY_S

__all__ = ["RULE"]

NAME = "nevada.moving_workday"
CITES = (Citation("NRS 608.018"), Citation("NRS 608.0126"))
NUMBERS = (
    dated(
        "daily_limit",
        "Hours worked in a workday beyond which overtime is due to people below the rate",
        "h",
        (date(2000, 1, 1), 8, "NRS 608.018; date of effect from memory"),
    ),
    dated(
        "times_minimum",
        "Daily overtime is due below this many hundredths of the minimum wage",
        "1/100",
        (date(2000, 1, 1), 150, "NRS 608.018; date of effect from memory"),
    ),
)
SAYS = "past {limit} hours in the 24 from the beginning of work, from {was} on: overtime until {now}"


def class_moving_days(
    person: Any,
    punch: Any,
    week: Any,
    starts: Any,
    ends: Any,
    limits_s: Any,
    lowest: Any,
    rates: Any,
    out_from: Any,
    out_starts: Any,
    out_ends: Any,
    overtime_from: Any,
) -> int:
    """Fill pieces cut where workdays end, with the instant from which each is past its workday's limit."""
    pieces = 0
    owner, begins, worked = -1, 0, 0
    for piece in range(len(punch)):
        who, at = person[punch[piece]], starts[piece]
        if who != owner:
            owner, begins, worked = who, at, 0
        while at < ends[piece]:
            if at >= begins + DAY_S:
                begins, worked = at, 0
            cut = min(ends[piece], begins + DAY_S)
            limit = limits_s[week[piece]] if rates[who] < lowest[week[piece]] else DAY_S
            out_from[pieces], out_starts[pieces], out_ends[pieces] = piece, at, cut
            overtime_from[pieces] = min(cut, at + max(0, limit - worked))
            worked += cut - at
            pieces += 1
            at = cut
    return pieces


def _limits(site: Site) -> Column:
    if site.rules.alternative_day_s:
        return np.full(len(site.week_dates), max(site.rules.alternative_day_s, 36_000), np.int64)
    return site.by_week(NAME, "daily_limit", 3600)


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with the daily overtime of people whose rate is too low to be without it."""
    paid = spans.paid
    if not len(paid.punch):
        return spans
    people = int(spans.person.max()) + 1
    rates = np.full(people, -1, np.int64) if site.rates is None else site.rates
    # Cents times 100, and one and a half: in tenths of a per mille the comparison stays exact.
    lowest = site.by_week("nevada.minimum_wage", "minimum_wage", 100) * site.by_week(NAME, "times_minimum") // 100
    # A piece of so many days meets that many ends of workdays, and one more.
    room = int((2 + (paid.ends - paid.starts) // DAY_S).sum())
    filled = tuple(np.empty(room, np.int64) for _ in range(4))
    inputs = (spans.person, paid.punch, paid.week, paid.starts, paid.ends, _limits(site), lowest, rates)
    count = run_pass(class_moving_days, inputs, filled, large=site.large)
    came, starts, ends, overtime_from = (column[:count] for column in filled)
    cut = Pieces(paid.punch[came], paid.week[came], paid.day[came], starts, ends, overtime_from, double_from=ends)
    return replace(spans, paid=cut)


def changes(before: Spans, after: Spans, site: Site) -> Changes:
    """Return one row per stretch past the limit of its workday."""
    # Its cuts are its own, so what lies before it has no pieces to compare with: all of it was ordinary.
    plain = replace(after, paid=replace(after.paid, overtime_from=after.paid.ends, double_from=after.paid.ends))
    agreed = site.rules.alternative_day_s
    limit = f"{_limits(site)[0] / 3600:g}" if agreed else site.by_week(NAME, "daily_limit")[after.paid.week]
    return reclassed(plain, after, SAYS, limit=limit)


RULE = Pass(NAME, CITES, "classes", apply, changes, NUMBERS)
