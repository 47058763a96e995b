"""United States, federal: the Fair Labor Standards Act's hours and overtime for non-exempt people.

Sources: 29 USC 207(a); 29 CFR parts 778 (overtime) and 785 (hours worked). State law, local law and agreements
may ask for more; where they do, they prevail.
"""

from __future__ import annotations

from evenhand.law.recorded import automatic_meal, call_back, doubles, grace, pairing, trifles
from evenhand.law.us_federal import overtime, rest_breaks, rounding, workweek
from evenhand.law.us_federal.pay import MINIMUM_WAGES, PAY_LAW

__all__ = ["MINIMUM_WAGES", "PAY_LAW", "RULES"]

RULES = (
    doubles,
    pairing,
    rest_breaks,
    rounding,
    grace,
    trifles,
    workweek,
    automatic_meal,
    overtime,
    call_back,
)
"""In order of application. Breaks are judged on raw punches, so before rounding; each bound is rounded before
spans are cut and subtracted. Grace, trifles, automatic meals and call-backs do nothing unless a policy sets them."""
