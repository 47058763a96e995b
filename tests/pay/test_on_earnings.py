"""What overtime and premium hours rest on what was earned beside the hours, kept so that a late bonus can be told.

Sources: 29 CFR 778.209(a), (c): the bonus over all hours worked, half of that for each overtime hour; 11 Cal.5th 858
(2021), second hand, for hours at the regular rate; 4 Cal.5th 542 (2018) for flat bonuses; 29 USC 207(h) for credits.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from evenhand.pay import Pay
from tests.pay.weeks import CALIFORNIA, SUNDAY, hours, paid

D = Decimal


def on_earnings(pay: Pay) -> dict[str, Decimal | None]:
    return dict(pay.on_earnings.select("item", "amount").iter_rows())


def test_it_is_what_the_same_week_owes_with_and_without_the_bonus() -> None:
    # 50 h at 20.00 and 46.00: 46 / 50 x 10 / 2 = 4.60, whatever the rate, and also where none is known.
    bonus = [{"kind": "bonus", "amount": D(46)}]
    for rate in ("20.00", None):
        assert on_earnings(paid(hours(50), on_roster=rate, earned=bonus)) == {"on_earnings:overtime_premium": D("4.60")}
    with_it, without = (
        paid(hours(50), on_roster="20.00", earned=one).weeks["overtime_premium"][0] for one in (bonus, [])
    )
    assert with_it - without == D("4.60")
    assert on_earnings(paid(hours(50), on_roster="20.00")) == {}
    assert on_earnings(paid(hours(50), on_roster="20.00", earned=[{"kind": "gift", "amount": D(46)}])) == {
        "on_earnings:overtime_premium": D("0.00")
    }


def test_hours_owed_at_the_regular_rate_rest_on_it_too() -> None:
    # 40 h: 80 / 40 = 2.00 more for the meal period's hour; the hour of a split shift is owed at the minimum wage.
    owed: list[dict[str, Any]] = [
        {"workday": SUNDAY, "kind": kind, "hours": D(1), "cites": "Cal. Labor Code 226.7"}
        for kind in ("meal", "split_shift")
    ]
    pay = paid(
        hours(40), rules=CALIFORNIA, on_roster="20.00", earned=[{"kind": "bonus", "amount": D(80)}], premiums=owed
    )
    assert on_earnings(pay) == {"on_earnings:overtime_premium": D("0.00"), "on_earnings:meal_premium": D("2.00")}


def test_a_flat_bonus_that_straight_hours_divide_owes_the_whole_multiple() -> None:
    # 80.00 over 40 straight hours is 2.00, and one and a half times that for each of 10 hours.
    pay = paid(hours(50), rules=CALIFORNIA, on_roster="20.00", earned=[{"kind": "flat_bonus", "amount": D(80)}])
    assert on_earnings(pay) == {"on_earnings:overtime_premium": D("30.00")}


def test_a_premium_already_paid_is_known_only_with_the_rate_it_is_set_against() -> None:
    # 10 h owe 100.00, of which 60.00 are paid already; without a rate it is not known how much of it counts.
    earned = [{"kind": "premium", "amount": D(60)}]
    assert on_earnings(paid(hours(50), on_roster="20.00", earned=earned)) == {
        "on_earnings:overtime_premium": D("-60.00")
    }
    assert on_earnings(paid(hours(50), earned=earned)) == {"on_earnings:overtime_premium": None}
