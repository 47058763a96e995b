"""Nevada: overtime past 40 hours a week and, below one and a half times the minimum wage, past 8 hours a workday.

Sources: NRS 608.018 and 608.0126; 29 USC 207(a).
"""

from __future__ import annotations

from evenhand.law.nevada import moving_workday, weekly
from evenhand.law.recorded import automatic_meal, call_back, doubles, grace, pairing, trifles
from evenhand.law.us_federal import overtime, rest_breaks, rounding, workweek
from evenhand.law.us_federal.pay import MINIMUM_WAGES as FEDERAL_WAGES
from evenhand.law.us_federal.pay import PAY_LAW

__all__ = ["MINIMUM_WAGES", "PAY_LAW", "RULES"]

MINIMUM_WAGES = (*FEDERAL_WAGES, "nevada.minimum_wage")

RULES = (
    doubles,
    pairing,
    rest_breaks,
    rounding,
    grace,
    trifles,
    workweek,
    automatic_meal,
    moving_workday,
    weekly,
    overtime,
    call_back,
)
"""In order of application: the day before the week, which counts what is still ordinary; the federal limit last."""
