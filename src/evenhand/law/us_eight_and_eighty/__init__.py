"""United States, federal: the 8 and 80 system for hospitals and residential care, over fixed periods of 14 days.

Sources: 29 USC 207(j); 29 CFR 778.601; Wage and Hour Division, Fact Sheets 33 and 54. It needs an agreement made before
the work, and nobody is on it and on the 40-hour week at once. State law may not know it.
"""

from __future__ import annotations

from dataclasses import replace

from evenhand.law.recorded import automatic_meal, call_back, doubles, grace, pairing, trifles
from evenhand.law.us_eight_and_eighty import daily, fortnight, workday
from evenhand.law.us_federal import pay as federal
from evenhand.law.us_federal import rest_breaks, rounding

__all__ = ["MINIMUM_WAGES", "PAY_LAW", "RULES"]

MINIMUM_WAGES = federal.MINIMUM_WAGES
PAY_LAW = replace(
    federal.PAY_LAW, cites={**federal.PAY_LAW.cites, "overtime": "29 USC 207(j); 29 CFR 778.110-778.115, 778.601"}
)

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
    fortnight,
    call_back,
)
"""In order of application. Overtime of the day counts toward that of the 14 days, so the day comes first and the
14 days count only what is still ordinary: together the larger of the two counts, never their sum."""
