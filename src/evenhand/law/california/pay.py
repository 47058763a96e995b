"""What California says of pay beyond federal law.

Source: Cal. Labor Code 515(d)(1) (a fortieth of the week's salary is its hourly rate) and (d)(2) (it pays for hours
that are not overtime only, whatever was agreed); fewer hours divide it where fewer are agreed: the Labor Commissioner's
questions and answers on overtime, second hand. 1182.12 (minimum wage); flat bonuses: 510(a) and 4 Cal.5th 542 (2018);
premium hours at the regular rate with bonuses: 11 Cal.5th 858 (2021), from memory.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from evenhand.law.us_federal.pay import STATE_PAY_LAW
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated

__all__ = ["MINIMUM_WAGE", "PAY_LAW"]

MINIMUM_WAGE = dated(
    "minimum_wage",
    sentence(
        "The state minimum wage for every hour worked, up to 2022 that of employers of 26 or more; local ones and "
        "those of single industries may be higher"
    ),
    "cent per hour",
    *(
        (date(year, 1, 1), cents, "Cal. Labor Code 1182.12(b)(1); figure second hand, confirm it")
        for year, cents in (
            (2017, 1050),
            (2018, 1100),
            (2019, 1200),
            (2020, 1300),
            (2021, 1400),
            (2022, 1500),
            (2023, 1550),
        )
    ),
    (date(2024, 1, 1), 1600, "Cal. Labor Code 1182.12; figure from the press, confirm it"),
    (date(2025, 1, 1), 1650, "Cal. Labor Code 1182.12; figure from the press, confirm it"),
    (date(2026, 1, 1), 1690, "Cal. Labor Code 1182.12; figure from the press, confirm it"),
)

PAY_LAW = replace(
    STATE_PAY_LAW,
    cites={
        **STATE_PAY_LAW.cites,
        "salary_fixed": "Cal. Labor Code 515(d)",
        "salary_fluctuating": "Cal. Labor Code 515(d)",
        "reopened_premium": "11 Cal.5th 858 (2021)",
        "flat_bonus_overtime": "4 Cal.5th 542 (2018)",
        "flat_bonus": "Cal. Labor Code 510(a); 4 Cal.5th 542 (2018)",
    },
    minimum_each_hour="135 Cal.App.4th 314 (2005)",
    salary_hours_s=40 * 3600,
    flat_bonus_by_straight_hours=True,
    premium_cites="11 Cal.5th 858 (2021)",
)
