"""A day's worth, by hand: the Wednesday of the Californian week."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from evenhand.pay.day import parts_of_day
from evenhand.terms.sources import PEOPLE
from evenhand.terms.wages import RATES
from tests.pay.test_week import CALIFORNIAN, WEEK
from tests.pay.weeks import ZONE, paid, worked

D = Decimal


def test_a_days_overtime_is_owed_at_its_weeks_rate() -> None:
    # 13 h in the dye house at 26.00: 338.00. Of the week's 1,312 over 59 h, 22.237288 an hour, half for 4 h is 44.47
    # and the whole for 1 h is 22.24. What the flat bonus adds to overtime is the week's.
    wednesday = [span for span in WEEK if span[0].startswith("2026-03-18")]
    classed, attributed = worked(*wednesday)
    people = PEOPLE.rows([{"person": "P1", "name": "Ida"}])
    rates = RATES.rows(
        {"person": "P1", "valid_from": date(2020, 1, 1), "reader": ""} | row for row in CALIFORNIAN["rates"]
    )
    parts = parts_of_day(classed, attributed, people, rates, {"P1": ZONE}, paid(WEEK, **CALIFORNIAN).lines)
    assert [(part.label, part.amount) for part in parts] == [
        ("hourly pay at DYE", D("338.00")),
        ("overtime, the half beyond straight pay", D("44.47")),
        ("double time, the whole beyond straight pay", D("22.24")),
    ]
