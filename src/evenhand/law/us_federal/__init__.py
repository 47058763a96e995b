"""United States, federal: the Fair Labor Standards Act's hours and overtime for non-exempt people.

Sources: 29 USC 207(a); 29 CFR parts 778 (overtime) and 785 (hours worked). State law, local law and agreements
may ask for more; where they do, they prevail.
"""

from __future__ import annotations

from evenhand.law.jurisdiction import Jurisdiction
from evenhand.law.recorded import automatic_meal, call_back, grace, pairing, repeats, trifles
from evenhand.law.us_federal import rest_breaks, rounding
from evenhand.law.us_federal.pay import MINIMUM_WAGE, PAY_LAW
from evenhand.law.us_federal.workweek import OVERTIME, WORKWEEK
from evenhand.terms.languages import sentence

__all__ = ["JURISDICTION"]

JURISDICTION = Jurisdiction(
    name="us_federal",
    title=sentence("United States, federal"),
    sources="29 USC 207(a); 29 CFR parts 778 and 785",
    # Breaks are judged on raw punches, so before rounding; each bound is rounded before spans are cut and subtracted.
    # Grace, trifles, automatic meals and call-backs do nothing unless a policy sets them.
    rules=(
        repeats.RULE,
        pairing.RULE,
        rest_breaks.RULE,
        rounding.RULE,
        grace.RULE,
        trifles.RULE,
        WORKWEEK,
        automatic_meal.RULE,
        OVERTIME,
        call_back.RULE,
    ),
    pay=PAY_LAW,
    minimum_wage=MINIMUM_WAGE,
)
