"""Alaska: overtime past 8 hours a day and past 40 hours a week, and the federal rules.

Sources: AS 23.10.060; 8 AAC 15.102; 29 USC 207(a). The state law does not bind employers of fewer than four people:
give their sites us_federal.
"""

from __future__ import annotations

from evenhand.law.alaska import daily, weekly, workday
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
    daily,
    weekly,
    overtime,
    call_back,
)
"""In order of application: the statute leaves daily overtime out of the 40, so the day comes first; the federal limit
comes last, so that a week never has less than federal law gives it."""
