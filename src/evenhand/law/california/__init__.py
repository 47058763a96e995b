"""California: the Labor Code's hours, overtime, meal and rest periods for non-exempt people.

Sources: Labor Code 226.7, 500, 510, 511 and 512; the Industrial Welfare Commission's wage orders; 11 Cal.5th 58. Wage
orders differ by industry, and local law and agreements may ask for more; where they do, they prevail.

A workday is a consecutive 24-hour period beginning at the same time each calendar day (Labor Code 500(a)). Any work in
excess of eight hours in one workday is at one and a half times, in excess of twelve at twice the regular rate (510(a));
exactly eight, or twelve, is not in excess. Where an alternative workweek schedule was properly adopted, days are
classed by it instead (`alternative_workweek`; 510(a)(1), from memory). Nothing in 510(a) requires an employer to
combine more than one rate of overtime for the same hour.
"""

from __future__ import annotations

from datetime import date

from evenhand.law.california import (
    alternative_workweek,
    meal_periods,
    no_rounding,
    reporting_time,
    rest_periods,
    seventh_day,
    split_shift,
)
from evenhand.law.california.pay import MINIMUM_WAGE, PAY_LAW
from evenhand.law.cutting import Workday
from evenhand.law.jurisdiction import Jurisdiction
from evenhand.law.limits import DailyLimit, WeeklyLimit
from evenhand.law.recorded import call_back, grace, pairing, repeats
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.law.us_federal import rest_breaks
from evenhand.law.us_federal.workweek import OVERTIME
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["JURISDICTION"]

SECTION_510 = (Citation("Cal. Labor Code 510(a)"),)


class OrdinaryDays(DailyLimit):
    """The daily limits of sites that have no alternative schedule."""

    def apply(self, spans: Spans, site: Site) -> Spans:
        """Return the spans with daily overtime and double time, or as they are under an alternative schedule."""
        return spans if site.rules.alternative_day_s else super().apply(spans, site)


DAILY = OrdinaryDays(
    "california.daily",
    SECTION_510,
    dated(
        "daily_limit",
        sentence("Hours worked in a workday beyond which overtime is due"),
        "h",
        (date(2000, 1, 1), 8, "Cal. Labor Code 510(a); date of effect from memory"),
    ),
    double=dated(
        "double_limit",
        sentence("Hours worked in a workday beyond which double time is due"),
        "h",
        (date(2000, 1, 1), 12, "Cal. Labor Code 510(a); date of effect from memory"),
    ),
    says=sentence(
        "past a limit of the workday ({limit} h overtime, {twice} h double time) from {was} to {now}: {class}"
    ),
)
WEEKLY = WeeklyLimit(
    "california.weekly",
    SECTION_510,
    dated(
        "weekly_limit",
        sentence("Ordinary hours worked in a workweek beyond which overtime is due"),
        "h",
        (date(2000, 1, 1), 40, "Cal. Labor Code 510(a); date of effect from memory"),
    ),
)

JURISDICTION = Jurisdiction(
    name="california",
    title=sentence("California"),
    sources="Cal. Labor Code 226.7, 500, 510, 511 and 512; IWC wage orders",
    # Daily limits and the seventh day come before the weekly limit, which counts only what is still ordinary; the
    # federal limit comes last, so that a week never has less than federal law gives it.
    rules=(
        no_rounding.RULE,
        repeats.RULE,
        pairing.RULE,
        rest_breaks.RULE,
        grace.RULE,
        Workday("california.workday", (Citation("Cal. Labor Code 500"),)),
        DAILY,
        alternative_workweek.SCHEDULED,
        alternative_workweek.HEALTH_CARE,
        seventh_day.RULE,
        WEEKLY,
        OVERTIME,
        meal_periods.RULE,
        rest_periods.RULE,
        split_shift.RULE,
        # A second report is owed beyond what the workplace pays for it as a call-back.
        call_back.RULE,
        reporting_time.RULE,
    ),
    pay=PAY_LAW,
    minimum_wage=MINIMUM_WAGE,
)
