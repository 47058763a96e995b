"""Below one and a half times the minimum wage, work past 8 hours in 24 from when work began is overtime.

Source: NRS 608.018 (eight hours in any workday, for people paid less than 1.5 times the minimum wage; four days of ten
hours by agreement have no daily overtime) and 608.0126 (a workday is 24 consecutive hours that begin when the person
begins work). So the workday moves with the person; that the next one begins with the first work after 24 hours, at
once where the person is at work, is our reading, no published example being known. The rate that counts is the lowest
that holds on the day on which a workday begins, a salary's being what it pays for each hour that it covers; without a
known one, as of pieces, days or a salary for whatever hours are worked, the daily limit is applied, also where another
rate holds beside it.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np

from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass
from evenhand.law.limits import reclassed
from evenhand.law.site import HourlyRates, Site
from evenhand.law.spans import Changes, Column, Pieces, Spans
from evenhand.terms.languages import sentence, told
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation, Refusal
from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["RULE"]

NAME = "nevada.moving_workday"
CITES = (Citation("NRS 608.018"), Citation("NRS 608.0126"))
NUMBERS = (
    dated(
        "daily_limit",
        sentence("Hours worked in a workday beyond which overtime is due to people below the rate"),
        "h",
        (date(2000, 1, 1), 8, "NRS 608.018; date of effect from memory"),
    ),
    dated(
        "agreed_limit",
        sentence("Hours of a day of four scheduled by agreement, the only ones that take its place"),
        "h",
        (date(2000, 1, 1), 10, "NRS 608.018(3)(b); date of effect from memory"),
    ),
    dated(
        "times_minimum",
        sentence("Daily overtime is due below this many hundredths of the minimum wage"),
        "1/100",
        (date(2000, 1, 1), 150, "NRS 608.018; date of effect from memory"),
    ),
)
SAYS = sentence("past {limit} hours in the 24 from the beginning of work, from {was} on: overtime until {now}")


def class_moving_days(
    person: Any,
    punch: Any,
    day: Any,
    starts: Any,
    ends: Any,
    day_numbers: Any,
    midnights: Any,
    limits_s: Any,
    lowest: Any,
    first: Any,
    since: Any,
    until: Any,
    amount: Any,
    out_from: Any,
    out_starts: Any,
    out_ends: Any,
    overtime_from: Any,
) -> int:
    """Fill pieces cut where workdays end, with the instant from which each is past its workday's limit."""
    pieces = 0
    owner, begins, worked, limit = -1, 0, 0, 0
    for piece in range(len(punch)):
        who, at = person[punch[piece]], starts[piece]
        while at < ends[piece]:
            if who != owner or at >= begins + DAY_S:
                owner, begins, worked = who, at, 0
                # The civil day on which work begins, whichever workday of the site it lies in.
                civil, rate = day[piece], -1
                while civil + 1 < len(midnights) and at >= midnights[civil + 1]:
                    civil += 1
                today = day_numbers[civil]
                for row in range(first[who], first[who + 1]):
                    if since[row] <= today <= until[row] and (rate < 0 or amount[row] < rate):
                        rate = amount[row]
                limit = limits_s[civil] if rate < lowest[civil] else DAY_S
            cut = min(ends[piece], begins + DAY_S)
            out_from[pieces], out_starts[pieces], out_ends[pieces] = piece, at, cut
            overtime_from[pieces] = min(cut, at + max(0, limit - worked))
            worked += cut - at
            pieces += 1
            at = cut
    return pieces


def _limits(site: Site) -> Column:
    """Return the daily limit [s] on each workday; raises Refusal for agreed days that the law does not know."""
    if not (agreed := site.rules.alternative_day_s):
        return site.by_day(NAME, "daily_limit", 3600)
    allowed = site.by_day(NAME, "agreed_limit", 3600)
    if (allowed != agreed).any():
        raise Refusal(
            told(
                "site {site}: alternative_day_hours is {agreed:g}; in Nevada only days of {allowed} hours, "
                "four a week, can be agreed on (NRS 608.018); correct it.",
                site=site.rules.site,
                agreed=agreed / 3600,
                allowed=allowed[0] // 3600,
            )
        )
    return allowed


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with the daily overtime of people whose rate is too low to be without it."""
    paid = spans.paid
    if not len(paid.punch):
        return spans
    none = np.zeros(0, np.int64)
    rates = site.rates or HourlyRates(np.zeros(int(spans.person.max()) + 2, np.int64), none, none, none)
    # Cents times 100, and one and a half: in tenths of a per mille the comparison stays exact.
    lowest = site.by_day("nevada.minimum_wage", "minimum_wage", 100) * site.by_day(NAME, "times_minimum") // 100
    # A piece of so many days meets that many ends of workdays, and one more.
    room = int((2 + (paid.ends - paid.starts) // DAY_S).sum())
    filled = tuple(np.empty(room, np.int64) for _ in range(4))
    of_rates = (rates.first, rates.since, rates.until, rates.amount)
    midnights, _, _ = offsets_of(site.rules.zone).from_local(site.day_numbers * DAY_S)
    of_days = (site.day_numbers, midnights, _limits(site), lowest)
    inputs = (spans.person, paid.punch, site.day_of(paid.starts), paid.starts, paid.ends, *of_days, *of_rates)
    count = run_pass(class_moving_days, inputs, filled, large=site.large)
    came, starts, ends, overtime_from = (column[:count] for column in filled)
    cut = Pieces(paid.punch[came], paid.week[came], paid.day[came], starts, ends, overtime_from, double_from=ends)
    return replace(spans, paid=cut)


def changes(before: Spans, after: Spans, site: Site) -> Changes:
    """Return one row per stretch past the limit of its workday."""
    # Its cuts are its own, so what lies before it has no pieces to compare with: all of it was ordinary.
    plain = replace(after, paid=replace(after.paid, overtime_from=after.paid.ends, double_from=after.paid.ends))
    return reclassed(plain, after, SAYS, limit=_limits(site)[site.day_of(after.paid.starts)] // 3600)


RULE = Pass(NAME, CITES, "classes", apply, changes, NUMBERS)
