"""Alaska: overtime past 8 hours a day and past 40 hours a week, and the federal rules.

Sources: AS 23.10.060; AS 23.10.065 (minimum wage); 8 AAC 15.102; 29 USC 207(a). The state law does not bind employers
of fewer than four people: give their sites us_federal. The statute leaves hours over eight a day out of the forty
(AS 23.10.060(b)). Under an approved voluntary flexible work plan days may have up to 10 hours without daily overtime
(AS 23.10.060(d)(14) and 8 AAC 15.102): the site's `alternative_day_s`. That a day is a fixed 24 hours is our reading.

A salary is for days of eight and weeks of forty hours, with overtime beside it, unless a written contract sets the
straight and overtime hours of each day and week and these are the hours worked (8 AAC 15.100(a)); a file of rates does
not show such a contract, so none is taken to be there. That a salary agreed for fewer hours is divided by those is our
reading.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from evenhand.law.cutting import Workday
from evenhand.law.jurisdiction import Jurisdiction
from evenhand.law.limits import DailyLimit, WeeklyLimit
from evenhand.law.recorded import automatic_meal, call_back, grace, pairing, repeats, trifles
from evenhand.law.us_federal import rest_breaks, rounding
from evenhand.law.us_federal.pay import STATE_PAY_LAW
from evenhand.law.us_federal.workweek import OVERTIME
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["JURISDICTION"]

STATUTE = (Citation("AS 23.10.060"),)

DAILY = DailyLimit(
    "alaska.daily",
    STATUTE,
    dated(
        "daily_limit",
        sentence("Hours worked in a day beyond which overtime is due"),
        "h",
        (date(2000, 1, 1), 8, "AS 23.10.060(b); date of effect from memory"),
    ),
    longest=dated(
        "plan_limit",
        sentence("The longest day of an approved flexible work plan without overtime"),
        "h",
        (date(2000, 1, 1), 10, "AS 23.10.060; 8 AAC 15.102; date of effect from memory"),
    ),
)
WEEKLY = WeeklyLimit(
    "alaska.weekly",
    (Citation("AS 23.10.060(b)"),),
    dated(
        "weekly_limit",
        sentence("Ordinary hours worked in a workweek beyond which overtime is due"),
        "h",
        (date(2000, 1, 1), 40, "AS 23.10.060(b); date of effect from memory"),
    ),
)

MINIMUM_WAGE = dated(
    "minimum_wage",
    sentence("The state minimum wage for every hour worked"),
    "cent per hour",
    (date(2017, 1, 1), 980, "AS 23.10.065; figure from the press, confirm it"),
    (date(2018, 1, 1), 984, "AS 23.10.065; figure from the press, confirm it"),
    (date(2019, 1, 1), 989, "AS 23.10.065; figure from the press, confirm it"),
    (date(2020, 1, 1), 1019, "AS 23.10.065; figure from the press, confirm it"),
    (date(2021, 1, 1), 1034, "AS 23.10.065; figure from the press, confirm it"),
    (date(2023, 1, 1), 1085, "AS 23.10.065; figure from the press, confirm it"),
    (date(2024, 1, 1), 1173, "AS 23.10.065; figure from the press, confirm it"),
    (date(2025, 1, 1), 1191, "AS 23.10.065; figure from the press, confirm it"),
    # Ballot Measure 1 of 2024, as the state's labor department announced it; from 2028 on prices move it.
    (date(2025, 7, 1), 1300, "AS 23.10.065 as amended in 2024; figure from the press, confirm it"),
    (date(2026, 7, 1), 1400, "AS 23.10.065 as amended in 2024; figure from the press, confirm it"),
    (date(2027, 7, 1), 1500, "AS 23.10.065 as amended in 2024; figure from the press, confirm it"),
)

PAY_LAW = replace(
    STATE_PAY_LAW,
    cites={**STATE_PAY_LAW.cites, "salary_fixed": "8 AAC 15.100(a)", "salary_fluctuating": "8 AAC 15.100(a)"},
    salary_hours_s=40 * 3600,
)

JURISDICTION = Jurisdiction(
    name="alaska",
    title=sentence("Alaska"),
    sources="AS 23.10.060; 8 AAC 15.100, 15.102",
    # The statute leaves daily overtime out of the 40, so the day comes first; the federal limit comes last, so that a
    # week never has less than federal law gives it.
    rules=(
        repeats.RULE,
        pairing.RULE,
        rest_breaks.RULE,
        rounding.RULE,
        grace.RULE,
        trifles.RULE,
        Workday("alaska.workday", STATUTE),
        automatic_meal.RULE,
        DAILY,
        WEEKLY,
        OVERTIME,
        call_back.RULE,
    ),
    pay=PAY_LAW,
    minimum_wage=MINIMUM_WAGE,
)
