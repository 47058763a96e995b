"""United States, federal: fire protection and law enforcement of public agencies, over work periods of 7 to 28 days.

Sources: 29 USC 207(k); 29 CFR 553.201-553.233. It is for people of a public agency alone, who are sworn or trained for
it, and for no other of its people (553.210-553.211). There is no limit by the workday or by the workweek: only what
exceeds the maximum of the period is overtime. State law and agreements may ask for more.
"""

from __future__ import annotations

from dataclasses import replace

from evenhand.law.jurisdiction import Jurisdiction
from evenhand.law.recorded import automatic_meal, call_back, grace, pairing, repeats, trifles
from evenhand.law.us_federal import rest_breaks, rounding
from evenhand.law.us_federal.pay import MINIMUM_WAGE, PAY_LAW
from evenhand.law.us_federal.workweek import WORKWEEK
from evenhand.law.us_public_safety import work_period
from evenhand.terms.languages import sentence

__all__ = ["JURISDICTION"]

JURISDICTION = Jurisdiction(
    name="us_public_safety",
    title=sentence("United States, federal: public safety"),
    sources="29 USC 207(k); 29 CFR 553.201-553.233",
    rules=(
        repeats.RULE,
        pairing.RULE,
        rest_breaks.RULE,
        rounding.RULE,
        grace.RULE,
        trifles.RULE,
        WORKWEEK,
        automatic_meal.RULE,
        work_period.RULE,
        call_back.RULE,
    ),
    pay=replace(
        PAY_LAW,
        cites={
            **PAY_LAW.cites,
            "overtime": "29 CFR 553.232, 553.233, 778.110-778.115",
            "rate_period": "29 USC 207(k); 29 CFR 553.233, 778.106",
        },
        rate_period="work_period",
    ),
    minimum_wage=MINIMUM_WAGE,
)
