"""What federal law says of pay: where each kind of pay stands in the regular rate, and the minimum wage.

Source: 29 USC 206, 207; 29 CFR part 778. The states known here count the regular rate as federal law does, except where
their own record says otherwise.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.pay_law import PayLaw

__all__ = ["MINIMUM_WAGE", "PAY_LAW", "STATE_PAY_LAW"]

MINIMUM_WAGE = dated(
    "minimum_wage",
    sentence("Minimum wage for every hour worked in a workweek; state and local ones may be higher"),
    "cent per hour",
    (date(2009, 7, 24), 725, "29 USC 206(a)(1)(C)"),
)

PAY_LAW = PayLaw(
    {
        "hourly": "29 CFR 778.110(a), 778.115",
        "differential": "29 CFR 778.207(b)",
        "piece": "29 CFR 778.111",
        "day": "29 CFR 778.112",
        "job": "29 CFR 778.112",
        "salary_fixed": "29 CFR 778.113(a), 778.325",
        "salary_fluctuating": "29 CFR 778.114",
        "commission": "29 CFR 778.117, 778.118",
        "bonus": "29 CFR 778.208, 778.209",
        "flat_bonus": "29 CFR 778.208, 778.209",
        "flat_sum": "29 CFR 778.310, 778.311",
        "premium": "29 USC 207(e)(5)-(7), (h)",
        "gift": "29 USC 207(e)(1), (3)",
        "expense": "29 USC 207(e)(2)",
        "leave": "29 USC 207(e)(2)",
        "overtime": "29 CFR 778.110-778.115",
        "double": "29 CFR 778.110-778.115",
        "credit": "29 USC 207(h)(2); 29 CFR 778.201",
        "reopened": "29 CFR 778.209, 778.119-120",
        "reopened_premium": "29 CFR 778.209",
        "regular_rate": "29 CFR 778.109",
        "minimum_wage": "29 CFR 778.5",
    }
)

STATE_PAY_LAW = replace(PAY_LAW, minimum_wages=(MINIMUM_WAGE,))
"""The same for a state, where the federal minimum wage binds beside its own."""
