"""Nevada: overtime past 40 hours a week and, below one and a half times the minimum wage, past 8 hours a workday.

Sources: NRS 608.018 (more than 40 hours in any scheduled week of work) and 608.0126; 29 USC 207(a); Nev. Const.
art. 15, section 16 (minimum wage).
"""

from __future__ import annotations

from datetime import date

from evenhand.law.jurisdiction import Jurisdiction
from evenhand.law.limits import WeeklyLimit
from evenhand.law.nevada import moving_workday
from evenhand.law.recorded import automatic_meal, call_back, grace, pairing, repeats, trifles
from evenhand.law.us_federal import rest_breaks, rounding
from evenhand.law.us_federal.pay import STATE_PAY_LAW
from evenhand.law.us_federal.workweek import OVERTIME, WORKWEEK
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["JURISDICTION"]

WEEKLY_LIMIT = dated(
    "weekly_limit",
    sentence("Ordinary hours worked in a workweek beyond which overtime is due"),
    "h",
    (date(2000, 1, 1), 40, "NRS 608.018; date of effect from memory"),
)

JURISDICTION = Jurisdiction(
    name="nevada",
    title=sentence("Nevada"),
    sources="NRS 608.018 and 608.0126",
    # The day before the week, which counts what is still ordinary; the federal limit last.
    rules=(
        repeats.RULE,
        pairing.RULE,
        rest_breaks.RULE,
        rounding.RULE,
        grace.RULE,
        trifles.RULE,
        WORKWEEK,
        automatic_meal.RULE,
        moving_workday.RULE,
        WeeklyLimit("nevada.weekly", (Citation("NRS 608.018"),), WEEKLY_LIMIT),
        OVERTIME,
        call_back.RULE,
    ),
    pay=STATE_PAY_LAW,
    minimum_wage=dated(
        "minimum_wage",
        sentence("The state minimum wage for every hour worked, without health benefits"),
        "cent per hour",
        # Of its two wages up to 2024 the one without health benefits, which is the higher; the lower one was 1.00 less.
        (date(2010, 7, 1), 825, "Nev. Const. art. 15, section 16; figure from the press, date from memory; confirm it"),
        (date(2020, 7, 1), 900, "NRS 608.250 as amended in 2019; figure from the press, confirm it"),
        (date(2021, 7, 1), 975, "NRS 608.250 as amended in 2019; figure from the press, confirm it"),
        (date(2022, 7, 1), 1050, "NRS 608.250 as amended in 2019; figure from the press, confirm it"),
        (date(2023, 7, 1), 1125, "NRS 608.250 as amended in 2019; figure from the press, confirm it"),
        (
            date(2024, 7, 1),
            1200,
            "Nev. Const. art. 15, section 16 as amended (12.00 from 1 July 2024, second hand); confirm it",
        ),
    ),
)
