"""United States, federal: the 8 and 80 system for hospitals and residential care, over fixed periods of 14 days.

Sources: 29 USC 207(j); 29 CFR 778.601; Wage and Hour Division, Fact Sheets 33 and 54. It needs an agreement made before
the work, and nobody is on it and on the 40-hour week at once. State law may not know it. A workday for this system is
any fixed 24 consecutive hours (29 CFR 778.601(b), from memory); exactly eight hours is not in excess of eight.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from evenhand.law.cutting import Workday
from evenhand.law.jurisdiction import Jurisdiction
from evenhand.law.limits import DailyLimit
from evenhand.law.recorded import automatic_meal, call_back, grace, pairing, repeats, trifles
from evenhand.law.us_eight_and_eighty import fortnight
from evenhand.law.us_federal import rest_breaks, rounding
from evenhand.law.us_federal.pay import MINIMUM_WAGE, PAY_LAW
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["JURISDICTION"]

DAILY_LIMIT = dated(
    "daily_limit",
    sentence("Hours worked in a workday beyond which overtime is due"),
    "h",
    (date(1967, 2, 1), 8, "29 USC 207(j); Pub. L. 89-601, section 602, from memory"),
)

JURISDICTION = Jurisdiction(
    name="us_eight_and_eighty",
    title=sentence("United States, federal: 8 and 80 system"),
    sources="29 USC 207(j); 29 CFR 778.601",
    # Overtime of the day counts toward that of the 14 days, so the day comes first and the 14 days count only what is
    # still ordinary: together the larger of the two counts, never their sum.
    rules=(
        repeats.RULE,
        pairing.RULE,
        rest_breaks.RULE,
        rounding.RULE,
        grace.RULE,
        trifles.RULE,
        Workday("us_eight_and_eighty.workday", (Citation("29 CFR 778.601"),)),
        automatic_meal.RULE,
        DailyLimit("us_eight_and_eighty.daily", (Citation("29 USC 207(j)"),), DAILY_LIMIT),
        fortnight.RULE,
        call_back.RULE,
    ),
    pay=replace(
        PAY_LAW,
        cites={
            **PAY_LAW.cites,
            "overtime": "29 CFR 778.110-778.115, 778.601",
            "rate_period": "29 USC 207(j); 29 CFR 778.106, 778.601",
        },
        rate_period="fortnight",
    ),
    minimum_wage=MINIMUM_WAGE,
)
