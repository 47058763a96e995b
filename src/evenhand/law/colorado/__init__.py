"""Colorado: overtime past 40 hours a week, 12 hours a workday or 12 consecutive hours, whichever pays most.

Source: 7 CCR 1103-1, rule 4.1.1 (the state's overtime and minimum pay order). Meal and rest periods of rule 5 are not
computed: they are close to California's, and what a missed one owes is extra pay for time worked.
"""

from __future__ import annotations

from evenhand.law.colorado import twelve_hours, weekly, workday
from evenhand.law.recorded import automatic_meal, call_back, doubles, grace, pairing, trifles
from evenhand.law.us_federal import overtime, rest_breaks, rounding
from evenhand.law.us_federal.pay import MINIMUM_WAGES, PAY_LAW

__all__ = ["MINIMUM_WAGES", "PAY_LAW", "RULES"]

RULES = (
    doubles,
    pairing,
    rest_breaks,
    rounding,
    grace,
    trifles,
    workday,
    automatic_meal,
    twelve_hours,
    weekly,
    overtime,
    call_back,
)
"""In order of application. The larger of the two twelve-hour counts is classed first and the weekly limit counts what
is still ordinary, so that a workweek has the largest of the three counts, never a sum of two."""
