"""A day's worth, by hand: the Wednesday of the Californian week."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from evenhand.pay.compute import Pay
from evenhand.pay.day import DayPart, parts_of_day
from evenhand.terms.zones import day_start
from tests.pay.test_week import CALIFORNIAN, WEEK
from tests.pay.weeks import ZONE, Span, hours, paid

D = Decimal


def parts_of(week: Pay, day: date) -> list[DayPart]:
    return parts_of_day(week, day_start(ZONE, day), day_start(ZONE, day + timedelta(days=1)))


def test_a_days_overtime_is_owed_at_its_weeks_rate() -> None:
    # 13 h in the dye house at 26.00: 338.00. Of the week's 1,312 over 59 h, 22.237288 an hour, half for 4 h is 44.47
    # and the whole for 1 h is 22.24. What the flat bonus adds to overtime is the week's.
    parts = parts_of(paid(WEEK, **CALIFORNIAN), date(2026, 3, 18))
    assert [(part.label, part.seconds, part.rate, part.amount) for part in parts] == [
        ("hourly pay at DYE", 13 * 3600, D(26), D("338.00")),
        ("overtime, the half beyond straight pay", 4 * 3600, D("11.1186"), D("44.47")),
        ("double time, the whole beyond straight pay", 3600, D("22.2373"), D("22.24")),
    ]


def day_of(spans: list[Span], rates: list[dict[str, Any]], day: str) -> list[tuple[str, int, Decimal, Decimal]]:
    """Return a day's parts: label, seconds, rate, amount."""
    parts = parts_of(paid(spans, rates=rates), date.fromisoformat(day))
    return [(part.label, part.seconds, part.rate, part.amount) for part in parts]


def test_a_day_at_two_rates_has_each_by_itself_and_no_overtime_it_did_not_have() -> None:
    # Of a week of 46 hours the first day has none of its overtime; four hours at 20.00 and three at 26.00.
    spans: list[Span] = [
        ("2026-03-15 06:00", "2026-03-15 10:00", "ordinary", "HALL"),
        ("2026-03-15 11:00", "2026-03-15 14:00", "ordinary", "DYE"),
        ("2026-03-16 06:00", "2026-03-16 08:00", "overtime", "HALL"),
    ]
    rates = [{"amount": D(20)}, {"amount": D(26), "reader": "DYE"}]
    assert day_of(spans, rates, "2026-03-15") == [
        ("hourly pay", 14_400, D(20), D(80)), ("hourly pay at DYE", 10_800, D(26), D(78))
    ]  # fmt: skip
    # The week's 198.00 over 9 hours are 22.00 an hour; two hours owe half of it each.
    assert day_of(spans, rates, "2026-03-16") == [
        ("hourly pay", 7_200, D(20), D(40)),
        ("overtime, the half beyond straight pay", 7_200, D(11), D(22)),
    ]


def test_a_day_under_a_salary_has_no_straight_pay_of_its_own() -> None:
    # 29 CFR 778.114: 450.00 over 45 hours; Thursday's five past 40 owe half of 10.00 each.
    spans = hours(45)
    rates = [{"plan": "salary_fluctuating", "amount": D(450)}]
    assert day_of(spans, rates, "2026-03-15") == []
    assert day_of(spans, rates, "2026-03-19") == [("overtime, the half beyond straight pay", 18_000, D(5), D(25))]
