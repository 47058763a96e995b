"""California: the Labor Code's hours, overtime, meal and rest periods for non-exempt people.

Sources: Labor Code 226.7, 500, 510, 511 and 512; the Industrial Welfare Commission's wage orders; 11 Cal.5th 58. Wage
orders differ by industry, and local law and agreements may ask for more; where they do, they prevail.
"""

from __future__ import annotations

from evenhand.law.california import (
    daily,
    meal_periods,
    no_rounding,
    reporting_time,
    rest_periods,
    seventh_day,
    split_shift,
    weekly,
    workday,
)
from evenhand.law.california.pay import MINIMUM_WAGES, PAY_LAW
from evenhand.law.recorded import call_back, doubles, grace, pairing
from evenhand.law.us_federal import overtime, rest_breaks

__all__ = ["MINIMUM_WAGES", "PAY_LAW", "RULES"]

RULES = (
    no_rounding,
    doubles,
    pairing,
    rest_breaks,
    grace,
    workday,
    daily,
    seventh_day,
    weekly,
    overtime,
    meal_periods,
    rest_periods,
    split_shift,
    reporting_time,
    call_back,
)
"""In order of application. Daily limits and the seventh day come before the weekly limit, which counts only what is
still ordinary; the federal limit comes last, so that a week never has less than federal law gives it."""
