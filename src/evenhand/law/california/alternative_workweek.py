"""Alternative workweek schedules that were properly adopted: days of more than eight hours without daily overtime.

Sources: Labor Code 511(a)-(b) and the wage orders, section 3(B)(1), from memory, which a chart of the orders that was
seen bears out: days of up to ten hours in a week of forty; work beyond the schedule is at one and a half times, past
twelve hours a day at twice, and past eight at twice on days beyond the scheduled ones. In health care, orders 4 and 5,
section 3(B)(8), have days of up to twelve hours: past twelve at twice, past forty hours a week at one and a half times,
and nothing more for further days (Singh v. Superior Court, 140 Cal.App.4th 387, 2006). Which days are scheduled the
site says; where it does not, the days beyond as many as forty hours of such days need are taken to lie outside the
schedule (our reading of "days worked beyond the regularly scheduled number of workdays").
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import Any, ClassVar

import numpy as np

from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Effect
from evenhand.law.limits import past_daily_limits, reclassed
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Spans
from evenhand.terms.languages import sentence, told
from evenhand.terms.parameters import Parameter, dated
from evenhand.terms.records import Citation, Refusal
from evenhand.terms.settings import SiteRules

__all__ = ["HEALTH_CARE", "SCHEDULED"]

SINCE = date(2000, 1, 1)
FROM_MEMORY = "Cal. Labor Code 511(b), from memory"
HOUR_S = 3600

ORDINARY_LIMIT_S, LONGEST_ORDINARY_S = 8 * HOUR_S, 10 * HOUR_S
"""Days of up to ten hours fall under section 3(B)(1) in health care too."""
LONGEST = dated(
    "alternative_limit",
    sentence("The longest day of an alternative workweek schedule without overtime"),
    "h",
    (SINCE, 10, "Cal. Labor Code 511(a), from memory"),
)
LONGEST_CARE = dated(
    "alternative_limit",
    sentence("The longest day of an alternative workweek schedule in health care without overtime"),
    "h",
    (SINCE, 12, "IWC wage orders 4 and 5, section 3(B)(8)"),
)
DOUBLE = dated(
    "double_limit", sentence("Hours worked in a workday beyond which double time is due"), "h", (SINCE, 12, FROM_MEMORY)
)
WEEK = dated(
    "week_hours", sentence("Hours of the workweek that the schedule divides into days"), "h", (SINCE, 40, FROM_MEMORY)
)
BEYOND = dated(
    "beyond_limit",
    sentence("Hours worked on a day beyond the scheduled ones past which double time is due"),
    "h",
    (SINCE, 8, FROM_MEMORY),
)


def class_alternative(
    person: Any,
    punch: Any,
    week: Any,
    day: Any,
    starts: Any,
    ends: Any,
    is_scheduled: Any,
    most: Any,
    over_s: int,
    double_s: Any,
    beyond_s: Any,
    overtime_from: Any,
    double_from: Any,
) -> None:
    """Fill the instants from which each piece is overtime and double time.

    By workday: `is_scheduled`, `double_s` and on other days `beyond_s`; by workweek `most`, the number of days worked
    after which the rest are not scheduled.
    """
    owner, current, today, days, worked = -1, -1, -1, 0, 0
    for piece in range(len(punch)):
        if person[punch[piece]] != owner or week[piece] != current:
            owner, current, today, days = person[punch[piece]], week[piece], -1, 0
        if day[piece] != today:
            today, worked = day[piece], 0
            days += 1
        over, double = over_s, double_s[today]
        if days > most[current] or not is_scheduled[today]:
            over, double = 0, beyond_s[today]
        overtime_from[piece] = min(ends[piece], starts[piece] + max(0, over - worked))
        double_from[piece] = min(ends[piece], starts[piece] + max(0, double - worked))
        worked += ends[piece] - starts[piece]


@dataclass(frozen=True)
class Alternative:
    """A rule for sites with an alternative schedule of one kind, which it classes days by; others are left alone."""

    name: str
    cites: tuple[Citation, ...]
    numbers: tuple[Parameter, ...]
    says: str
    is_care: bool = False
    effect: ClassVar[Effect] = "classes"

    def _binds(self, rules: SiteRules) -> bool:
        is_care = rules.health_care and rules.alternative_day_s > LONGEST_ORDINARY_S
        return rules.alternative_day_s > 0 and is_care == self.is_care

    def apply(self, spans: Spans, site: Site) -> Spans:
        """Return the spans with the days of the schedule classed; raises Refusal for a day it may not have."""
        if not self._binds(site.rules):
            return spans
        agreed, longest = site.rules.alternative_day_s, site.parameter(self.name, LONGEST.name)
        longest_s = int(site.by_day(self.name, longest.name, HOUR_S).min())
        if not ORDINARY_LIMIT_S <= agreed <= longest_s:
            raise Refusal(
                told(
                    "{named}: alternative_day_hours is {agreed:g}; such a schedule has days of more than 8 and "
                    "up to {longest_s} hours ({where}); correct it.",
                    named=site.rules.named,
                    agreed=agreed / HOUR_S,
                    longest_s=longest_s // HOUR_S,
                    where=longest.values[-1][2].where,
                )
            )
        double_s = site.by_day(self.name, DOUBLE.name, HOUR_S)
        if self.is_care:
            return past_daily_limits(spans, site, double_s, double_s)
        paid, days = spans.paid, site.rules.alternative_days
        is_scheduled = np.array([not days or day.weekday() in days for day in site.day_dates], np.bool_)
        week_s = site.by_week(self.name, WEEK.name, HOUR_S)
        most = np.full(len(week_s), 7) if days else -(-week_s // agreed)
        beyond_s = site.by_day(self.name, BEYOND.name, HOUR_S)
        overtime_from, double_from = np.empty(len(paid.punch), np.int64), np.empty(len(paid.punch), np.int64)
        pieces = (spans.person, paid.punch, paid.week, paid.day, paid.starts, paid.ends)
        inputs = (*pieces, is_scheduled, most, agreed, double_s, beyond_s)
        run_pass(class_alternative, inputs, (overtime_from, double_from), large=site.large)
        return replace(spans, paid=replace(paid, overtime_from=overtime_from, double_from=double_from))

    def changes(self, before: Spans, after: Spans, site: Site) -> Changes | None:
        """Return one row per stretch that it made overtime or double time."""
        if not self._binds(site.rules):
            return None
        words = {number.name: int(site.by_day(self.name, number.name).min()) for number in self.numbers}
        return reclassed(before, after, self.says, agreed=f"{site.rules.alternative_day_s / HOUR_S:g}", **words)


SCHEDULED = Alternative(
    "california.alternative_workweek",
    (Citation("Cal. Labor Code 511(b)"), Citation("IWC wage orders, section 3(B)(1)")),
    (LONGEST, DOUBLE, WEEK, BEYOND),
    sentence(
        "past the alternative schedule ({agreed} h a scheduled day, {double_limit} h double time; on other days from "
        "the first hour, {beyond_limit} h double time) from {was} to {now}: {class}"
    ),
)
HEALTH_CARE = Alternative(
    "california.health_care_schedule",
    (Citation("IWC wage orders 4 and 5, section 3(B)(8)"), Citation("140 Cal.App.4th 387 (2006)")),
    (LONGEST_CARE, DOUBLE),
    sentence("past {double_limit} h in a workday of a health-care schedule from {was} to {now}: {class}"),
    is_care=True,
)
