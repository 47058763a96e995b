"""Payroll's rows and their control total, by hand arithmetic."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from evenhand import pay
from evenhand.pay.payroll.handoff import FIELDS, hours, hours_and_minutes
from evenhand.terms.hours import WEEKS
from evenhand.terms.records import Refusal
from evenhand.terms.sources import PEOPLE
from evenhand.terms.wages import PAY_WEEKS

PERIOD = (date(2026, 11, 1), date(2026, 11, 14))
ROSTER = PEOPLE.rows(
    [
        {"person": "P1", "name": "Ida Marlow", "number": "0042", "site": "Mill", "hourly_rate": Decimal("18.25")},
        {"person": "P2", "name": "Rui Okoro", "number": "7315", "site": "Mill"},
    ]
)


def week(person: str, workweek: date, ordinary_s: int, overtime_s: int = 0) -> dict[str, object]:
    return {
        "person": person,
        "workweek": workweek,
        "recorded_s": ordinary_s + overtime_s,
        "ordinary_s": ordinary_s,
        "overtime_s": overtime_s,
        "double_s": 0,
        "questions": 0,
    }


WEEK_ROWS = WEEKS.rows(
    [
        week("P1", date(2026, 11, 1), 144_000, 18_090),  # 40:00 and 5:01:30
        week("P1", date(2026, 11, 8), 129_618),  # 36:00:18
        week("P2", date(2026, 11, 1), 100_000),  # 27:46:40
    ]
)


def test_one_row_a_week_where_a_column_asks_for_the_week() -> None:
    rows = pay.handoff_rows(WEEK_ROWS, ROSTER, PERIOD, by_week=True)
    assert [(row.person, row.workweek) for row in rows] == [
        ("P1", date(2026, 11, 1)),
        ("P1", date(2026, 11, 8)),
        ("P2", date(2026, 11, 1)),
    ]


def test_one_row_a_person_where_none_does() -> None:
    rows = pay.handoff_rows(WEEK_ROWS, ROSTER, PERIOD, by_week=False)
    assert [(row.person, row.ordinary_s, row.overtime_s) for row in rows] == [
        ("P1", 273_618, 18_090),
        ("P2", 100_000, 0),
    ]


def test_hours_are_rounded_once_half_up_from_exact_seconds() -> None:
    assert hours(129_618) == Decimal("36.01")  # 36.005 exactly
    assert hours(129_617) == Decimal("36.00")
    assert hours_and_minutes(18_090) == "5:02"  # 5:01:30
    assert hours_and_minutes(18_089) == "5:01"


def test_the_control_total_states_printed_and_exact_sums() -> None:
    total = pay.control_total(pay.handoff_rows(WEEK_ROWS, ROSTER, PERIOD, by_week=True))
    assert (total.rows, total.people) == (3, 2)
    assert total.ordinary_s == 373_618
    # 40.00 + 36.01 + 27.78 printed, although 373,618 s are 103.78 h
    assert total.printed_ordinary == Decimal("103.79")
    assert total.printed_overtime == Decimal("5.03")  # 18,090 s are 5.025 h exactly


def test_leading_zeros_reach_payroll() -> None:
    row = pay.handoff_rows(WEEK_ROWS, ROSTER, PERIOD, by_week=False)[0]
    assert FIELDS["number"][1](row) == "0042"


def test_a_field_that_does_not_exist_is_refused_by_its_header() -> None:
    with pytest.raises(
        Refusal, match=r'\[handoff.columns\] "Shoe": there is no field "shoe_size"; choose one of person,'
    ):
        pay.handoff_columns([("Shoe", "shoe_size")])


def test_hours_of_somebody_who_is_not_on_the_roster_are_refused() -> None:
    with pytest.raises(Refusal, match="person P2 has hours but is not on the roster"):
        pay.handoff_rows(WEEK_ROWS, ROSTER.head(1), PERIOD, by_week=False)


def paid(person: str, workweek: date, *money: str | None) -> dict[str, object]:
    """Return a row of PAY_WEEKS: regular rate, straight pay, overtime premium, premiums, other pay, total."""
    names = ("regular_rate", "straight_pay", "overtime_premium", "premiums", "other_pay", "total_pay")
    amounts = (None if amount is None else Decimal(amount) for amount in money)
    return {"person": person, "workweek": workweek, "worked_s": 0} | dict(zip(names, amounts, strict=True))


PAID = PAY_WEEKS.rows(
    [
        paid("P1", date(2026, 11, 1), "18.2537", "821.70", "45.83", "18.25", "10.00", "895.78"),
        paid("P1", date(2026, 11, 8), "18.25", "657.09", "0.00", "0.00", "5.50", "662.59"),
        paid("P2", date(2026, 11, 1), *[None] * 6),
        paid("P2", date(2026, 11, 8), "0", "0.00", "0.00", "0.00", "40.00", "40.00"),  # paid without hours
    ]
)
MONEY = tuple((field, field) for field in pay.payroll.MONEY_FIELDS)


def printed(rows: list[pay.HandoffRow], fields: tuple[str, ...]) -> list[tuple[object, ...]]:
    return [tuple(FIELDS[field][1](row) for field in fields) for row in rows]


def test_a_weeks_money_stands_beside_its_hours_and_pay_without_hours_has_a_row() -> None:
    rows = pay.handoff_rows(WEEK_ROWS, ROSTER, PERIOD, by_week=True, pay_weeks=PAID)
    fields = ("person", "workweek", "ordinary_seconds", *pay.payroll.MONEY_FIELDS)
    none = (None,) * 6
    first, second = date(2026, 11, 1), date(2026, 11, 8)
    one, two = (
        tuple(map(Decimal, money))
        for money in (("18.2537", "821.70", "45.83", "18.25", "10.00", "895.78"),
                      ("18.25", "657.09", "0", "0", "5.50", "662.59"))
    )  # fmt: skip
    zeros = (Decimal(0), Decimal(0), Decimal(0), Decimal(0), Decimal(40), Decimal(40))
    assert printed(rows, fields) == [
        ("P1", first, 144_000, *one), ("P1", second, 129_618, *two), ("P2", first, 100_000, *none),
        ("P2", second, 0, *zeros),
    ]  # fmt: skip
    assert [str(cell) for cell in printed(rows, ("regular_rate", "total_pay"))[0]] == ["18.2537", "895.78"]


def test_a_periods_money_is_the_sum_of_its_weeks_without_a_rate_and_unknown_where_a_week_is() -> None:
    rows = pay.handoff_rows(WEEK_ROWS, ROSTER, PERIOD, by_week=False, pay_weeks=PAID)
    sums = tuple(map(Decimal, ("1478.79", "45.83", "18.25", "15.50", "1558.37")))  # 821.70 + 657.09, and so on
    fields = ("person", "workweek", "overtime_seconds", *pay.payroll.MONEY_FIELDS)
    assert printed(rows, fields) == [("P1", None, 18_090, None, *sums), ("P2", None, 0, *[None] * 6)]


def test_the_control_total_sums_the_money_that_is_known_and_counts_the_rows_without() -> None:
    rows = pay.handoff_rows(WEEK_ROWS, ROSTER, PERIOD, by_week=True, pay_weeks=PAID)
    total = pay.control_total(rows, MONEY)
    # Rates are not summed; the amounts are by hand: 895.78 + 662.59 + 40.00.
    assert total.money == (
        ("straight_pay", Decimal("1478.79")),
        ("overtime_premium", Decimal("45.83")),
        ("premium_pay", Decimal("18.25")),
        ("other_pay", Decimal("55.50")),
        ("total_pay", Decimal("1598.37")),
    )
    assert total.rows_without_money == 1
    plain = pay.control_total(rows, (("Hours", "paid_hours"),))
    assert (plain.money, plain.rows_without_money) == ((), 0)


def test_a_row_has_each_field_by_its_own_meaning() -> None:
    week_of = {**week("P1", date(2026, 11, 1), 144_000, 18_090), "double_s": 3_630, "recorded_s": 165_600}
    (row,) = pay.handoff_rows(WEEKS.rows([week_of]), ROSTER, PERIOD, by_week=True)
    fields = (
        "person",
        "name",
        "number",
        "site",
        "department",
        "hourly_rate",
        "workweek",
        "period_first",
        "period_last",
    )
    assert printed([row], fields) == [
        ("P1", "Ida Marlow", "0042", "Mill", "", Decimal("18.25"), date(2026, 11, 1), *PERIOD)
    ]
    # 165,600 s are 46 h; 144,000, 18,090 and 3,630 s are 40 h, 5.025 h, 1.00833 h; together 46.03333 h.
    hours_of = ("recorded_hours", "ordinary_hours", "overtime_hours", "double_hours", "paid_hours")
    assert printed([row], hours_of) == [tuple(map(Decimal, ("46.00", "40.00", "5.03", "1.01", "46.03")))]
    assert printed([row], ("ordinary_hm", "overtime_hm", "double_hm")) == [("40:00", "5:02", "1:01")]
    assert printed([row], ("ordinary_seconds", "overtime_seconds", "double_seconds")) == [(144_000, 18_090, 3_630)]
    total = pay.control_total([row])
    assert (total.overtime_s, total.double_s, total.printed_double) == (18_090, 3_630, Decimal("1.01"))


def test_a_person_without_number_site_or_rate_has_none() -> None:
    roster = PEOPLE.rows([{"person": "P1", "name": "Ida Marlow"}])
    (row,) = pay.handoff_rows(WEEK_ROWS.head(1), roster, PERIOD, by_week=False)
    assert printed([row], ("number", "site", "department", "hourly_rate")) == [("", "", "", None)]


def test_without_columns_of_their_own_users_get_hours_by_week() -> None:
    assert pay.handoff_columns([]) == pay.payroll.handoff.DEFAULT_COLUMNS
    assert pay.handoff_columns([("Pay", "total_pay")]) == (("Pay", "total_pay"),)


@pytest.mark.parametrize("field", ["double_hours", "double_hm", "double_seconds", "paid_hours"])
def test_double_time_needs_a_column(field: str) -> None:
    rows = pay.handoff_rows(WEEKS.rows([{**week("P1", PERIOD[0], 0), "double_s": 5_400}]), ROSTER, PERIOD, by_week=True)
    with pytest.raises(Refusal, match=r"has no column for 1\.50 hours of double time"):
        pay.check_double_time([("Hours", "ordinary_hours")], rows)
    pay.check_double_time([("Hours", "ordinary_hours"), ("More", field)], rows)
    none = pay.handoff_rows(WEEK_ROWS, ROSTER, PERIOD, by_week=True)
    pay.check_double_time([("Hours", "ordinary_hours")], none)


def test_the_digest_depends_on_the_sources_and_not_on_their_order() -> None:
    one = pay.digest({"weeks": WEEK_ROWS, "people": ROSTER}, "rules")
    assert one == pay.digest({"people": ROSTER.reverse(), "weeks": WEEK_ROWS.reverse()}, "rules")
    assert one != pay.digest({"weeks": WEEK_ROWS.head(2), "people": ROSTER}, "rules")
    assert one != pay.digest({"weeks": WEEK_ROWS, "people": ROSTER}, "other rules")
