"""Colorado: overtime past 40 hours a week, 12 hours a workday or 12 consecutive hours, whichever pays most.

Source: 7 CCR 1103-1, rule 4.1.1 (the state's overtime and minimum pay order): hours in excess of 40 a workweek, 12 a
workday or 12 consecutive ones; a workday is any consecutive 24 hours that begin at the hour at which the workweek
begins. Meal and rest periods of rule 5 are not computed: they are close to California's, and what a missed one owes is
extra pay for time worked. Minimum wage: 7 CCR 1103-1, rule 3.1, and Colo. Const. art. XVIII, section 15.
"""

from __future__ import annotations

from datetime import date

from evenhand.law.colorado import twelve_hours
from evenhand.law.cutting import Workday
from evenhand.law.jurisdiction import Jurisdiction
from evenhand.law.limits import WeeklyLimit
from evenhand.law.recorded import automatic_meal, call_back, grace, pairing, repeats, trifles
from evenhand.law.us_federal import rest_breaks, rounding
from evenhand.law.us_federal.pay import STATE_PAY_LAW
from evenhand.law.us_federal.workweek import OVERTIME
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["JURISDICTION"]

WEEKLY_LIMIT = dated(
    "weekly_limit",
    sentence("Ordinary hours worked in a workweek beyond which overtime is due"),
    "h",
    (date(2000, 1, 1), 40, "7 CCR 1103-1, rule 4.1.1; date of effect from memory"),
)

MINIMUM_WAGE = dated(
    "minimum_wage",
    sentence("The state minimum wage for every hour worked; cities' and counties' own may be higher"),
    "cent per hour",
    # The constitution adds 0.90 a year up to 2020; each year's order (7 CCR 1103-14) states what prices made of it.
    (date(2017, 1, 1), 930, "Colo. Const. art. XVIII, section 15; figure from the press, confirm it"),
    (date(2018, 1, 1), 1020, "Colo. Const. art. XVIII, section 15; figure from the press, confirm it"),
    (date(2019, 1, 1), 1110, "Colo. Const. art. XVIII, section 15; figure from the press, confirm it"),
    (date(2020, 1, 1), 1200, "Colo. Const. art. XVIII, section 15; figure from the press, confirm it"),
    (date(2021, 1, 1), 1232, "Colo. Const. art. XVIII, section 15; figure from memory, confirm it"),
    (date(2022, 1, 1), 1256, "Colo. Const. art. XVIII, section 15; figure from the press, confirm it"),
    (date(2023, 1, 1), 1365, "Colo. Const. art. XVIII, section 15; figure from the press, confirm it"),
    (date(2024, 1, 1), 1442, "Colo. Const. art. XVIII, section 15; 7 CCR 1103-14; figure from the press, confirm it"),
    (date(2025, 1, 1), 1481, "Colo. Const. art. XVIII, section 15; 7 CCR 1103-14; figure from the press, confirm it"),
    (date(2026, 1, 1), 1516, "Colo. Const. art. XVIII, section 15; 7 CCR 1103-14; figure from the press, confirm it"),
)

JURISDICTION = Jurisdiction(
    name="colorado",
    title=sentence("Colorado"),
    sources="7 CCR 1103-1",
    # The larger of the two twelve-hour counts is classed first and the weekly limit counts what is still ordinary, so
    # that no hour is counted toward two limits.
    rules=(
        repeats.RULE,
        pairing.RULE,
        rest_breaks.RULE,
        rounding.RULE,
        grace.RULE,
        trifles.RULE,
        Workday("colorado.workday", (Citation("7 CCR 1103-1"),)),
        automatic_meal.RULE,
        twelve_hours.RULE,
        WeeklyLimit("colorado.weekly", (Citation("7 CCR 1103-1, rule 4.1.1"),), WEEKLY_LIMIT),
        OVERTIME,
        call_back.RULE,
    ),
    pay=STATE_PAY_LAW,
    minimum_wage=MINIMUM_WAGE,
)
