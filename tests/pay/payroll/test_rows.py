"""Payroll's rows and their control total, by hand arithmetic."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from evenhand import pay
from evenhand.pay.payroll.fields import FIELDS, figure_as_text, rounded
from evenhand.terms.columns import Frame
from evenhand.terms.handed_off import PRINTED_BEFORE, TOLD_BEFORE
from evenhand.terms.hours import DIFFERENTIALS, PREMIUMS, WEEKS
from evenhand.terms.payroll import OWED, ImportDefinition, PayrollColumn
from evenhand.terms.records import Refusal
from evenhand.terms.sources import PEOPLE
from evenhand.terms.wages import PAY_ITEMS, PAY_WEEKS

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


def rows_of(
    weeks: Frame,
    people: Frame,
    period: tuple[date, date],
    *,
    by_week: bool,
    pay_weeks: Frame | None = None,
    pay_items: Frame | None = None,
) -> list[pay.PayrollRow]:
    pay_weeks, pay_items = (
        table.empty() if given is None else given for table, given in ((PAY_WEEKS, pay_weeks), (PAY_ITEMS, pay_items))
    )
    owed = pay.owed_items(weeks, PREMIUMS.empty(), DIFFERENTIALS.empty(), pay_weeks, pay_items)
    return pay.payroll_rows(owed, people, period, by_week=by_week, pay_weeks=pay_weeks)


def table_of(rows: list[pay.PayrollRow], *fields: str) -> pay.PayrollTable:
    columns = tuple(PayrollColumn(field.upper(), field) for field in ("person", *fields))
    return pay.payroll_table(pay.asked_by(ImportDefinition(columns=columns), ()), rows)


def totals_of(table: pay.PayrollTable) -> dict[str, str]:
    return {one.field: one.as_printed for one in table.total.columns}


def test_one_row_a_week_where_a_column_asks_for_the_week() -> None:
    rows = rows_of(WEEK_ROWS, ROSTER, PERIOD, by_week=True)
    assert [(row.person, row.workweek) for row in rows] == [
        ("P1", date(2026, 11, 1)),
        ("P1", date(2026, 11, 8)),
        ("P2", date(2026, 11, 1)),
    ]


def test_one_row_a_person_where_none_does() -> None:
    rows = rows_of(WEEK_ROWS, ROSTER, PERIOD, by_week=False)
    assert printed(rows, ("person", "ordinary_seconds", "overtime_seconds")) == [
        ("P1", 273_618, 18_090),
        ("P2", 100_000, 0),
    ]


def test_hours_are_rounded_once_half_up_from_exact_seconds() -> None:
    assert rounded(129_618, "hours") == Decimal("36.01")  # 36.005 exactly
    assert rounded(129_617, "hours") == Decimal("36.00")
    assert rounded(-18, "hours") == Decimal(
        "-0.01"
    )  # away from zero, so that what is taken back mirrors what was given
    assert figure_as_text(int(rounded(18_090, "hm"))) == "5:02"  # 5:01:30
    assert figure_as_text(int(rounded(18_089, "hm"))) == "5:01"
    assert figure_as_text(int(rounded(-5_400, "hm"))) == "-1:30"


def test_a_total_is_the_sum_of_the_printed_figures_and_states_the_exact_one() -> None:
    table = table_of(rows_of(WEEK_ROWS, ROSTER, PERIOD, by_week=True), "workweek", "ordinary_hours", "overtime_hours")
    total = table.total
    assert (total.rows, total.people) == (3, 2)
    ordinary, overtime = total.columns
    # 40.00 + 36.01 + 27.78 printed, although 373,618 s are 103.78 h
    assert (ordinary.printed, ordinary.exact) == (Decimal("103.79"), Decimal(373_618))
    assert (total.printed_ordinary, total.ordinary_s) == (Decimal("103.79"), 373_618)
    assert overtime.printed == total.printed_overtime == Decimal("5.03")  # 18,090 s are 5.025 h exactly
    assert total.worked == "108.82"
    assert [row[2:] for row in table.cells] == [
        (Decimal("40.00"), Decimal("5.03")), (Decimal("36.01"), Decimal("0.00")), (Decimal("27.78"), Decimal("0.00")),
    ]  # fmt: skip


def test_leading_zeros_reach_payroll() -> None:
    row = rows_of(WEEK_ROWS, ROSTER, PERIOD, by_week=False)[0]
    assert FIELDS["number"].cell(row) == "0042"


def test_a_field_that_does_not_exist_is_refused_by_its_header() -> None:
    with pytest.raises(
        Refusal, match=r'\[handoff.columns\] "SHOE_SIZE": there is no field "shoe_size"; choose one of person,'
    ):
        table_of([], "shoe_size")


def test_hours_of_somebody_who_is_not_on_the_roster_are_refused() -> None:
    with pytest.raises(Refusal, match="person P2 is owed pay but is not on the roster"):
        rows_of(WEEK_ROWS, ROSTER.head(1), PERIOD, by_week=False)


def paid(person: str, workweek: date, rate: str | None, total: str | None) -> dict[str, object]:
    """Return a row of PAY_WEEKS: regular rate and total, which is unknown where it is None."""
    amounts = {"regular_rate": rate, "total_pay": total}
    known = {name: None if amount is None else Decimal(amount) for name, amount in amounts.items()}
    return {"person": person, "workweek": workweek, "worked_s": 0, **known}


PAID = PAY_WEEKS.rows(
    [
        paid("P1", date(2026, 11, 1), "18.2537", "895.78"),
        paid("P1", date(2026, 11, 8), "18.25", "662.59"),
        paid("P2", date(2026, 11, 1), None, None),
        paid("P2", date(2026, 11, 8), "0", "40.00"),  # paid without hours
    ]
)
ITEMS = PAY_ITEMS.rows(
    {"person": person, "workweek": date(2026, 11, day), "item": item, "amount": None if sum_ is None else Decimal(sum_)}
    for person, day, item, sum_ in (
        ("P1", 1, "base", "811.70"), ("P1", 1, "earned_bonus", "10.00"), ("P1", 1, "overtime_premium", "45.83"),
        ("P1", 1, "meal_premium", "18.25"), ("P1", 1, "earned_gift", "10.00"),
        ("P1", 8, "base", "657.09"), ("P1", 8, "earned_expense", "5.50"),
        ("P2", 1, "base", None), ("P2", 8, "earned_gift", "40.00"),
    )
)  # fmt: skip
MONEY = ("regular_rate", "straight_pay", "overtime_premium", "premium_pay", "other_pay", "total_pay")


def printed(rows: list[pay.HandoffRow], fields: tuple[str, ...]) -> list[tuple[object, ...]]:
    return [tuple(FIELDS[field].cell(row) for field in fields) for row in rows]


def test_a_weeks_money_stands_beside_its_hours_and_pay_without_hours_has_a_row() -> None:
    rows = rows_of(WEEK_ROWS, ROSTER, PERIOD, by_week=True, pay_weeks=PAID, pay_items=ITEMS)
    fields = ("person", "workweek", "ordinary_seconds", *MONEY)
    none = (*[None] * 4, Decimal(0), None)  # what is earned beside the hours is known all the same
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
    rows = rows_of(WEEK_ROWS, ROSTER, PERIOD, by_week=False, pay_weeks=PAID, pay_items=ITEMS)
    sums = tuple(map(Decimal, ("1478.79", "45.83", "18.25", "15.50", "1558.37")))  # 821.70 + 657.09, and so on
    fields = ("person", "workweek", "overtime_seconds", *MONEY)
    assert printed(rows, fields) == [("P1", None, 18_090, None, *sums), ("P2", None, 0, *[None] * 4, Decimal(40), None)]


def test_the_control_total_sums_the_money_that_is_known_and_counts_the_rows_without() -> None:
    rows = rows_of(WEEK_ROWS, ROSTER, PERIOD, by_week=True, pay_weeks=PAID, pay_items=ITEMS)
    total = table_of(rows, "workweek", *MONEY).total
    # Rates are not summed; the amounts are by hand: 895.78 + 662.59 + 40.00.
    assert {one.field: (one.as_printed, one.unknown) for one in total.columns} == {
        "straight_pay": ("1478.79", 1),
        "overtime_premium": ("45.83", 1),
        "premium_pay": ("18.25", 1),
        "other_pay": ("55.50", 0),  # a gift is known though the rate of the hours beside it is not
        "total_pay": ("1598.37", 1),
    }
    assert total.rows_without_money == 1
    assert total.money is None  # total_pay holds what the others do
    parts = table_of(rows, "straight_pay", "overtime_premium", "premium_pay", "other_pay").total
    assert parts.money == Decimal("1598.37")  # 1478.79 + 45.83 + 18.25 + 55.50
    plain = table_of(rows, "paid_hours").total
    assert (plain.money, plain.rows_without_money) == (None, 0)


def test_a_row_has_each_field_by_its_own_meaning() -> None:
    week_of = {**week("P1", date(2026, 11, 1), 144_000, 18_090), "double_s": 3_630, "recorded_s": 165_600}
    (row,) = rows_of(WEEKS.rows([week_of]), ROSTER, PERIOD, by_week=True)
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
    total = table_of([row], "double_minutes").total
    assert (total.overtime_s, total.double_s, total.printed_double) == (18_090, 3_630, Decimal("1.01"))
    assert [(one.as_printed, one.exact) for one in total.columns] == [("61", Decimal(3_630))]


def test_a_person_without_number_site_or_rate_has_none() -> None:
    roster = PEOPLE.rows([{"person": "P1", "name": "Ida Marlow"}])
    (row,) = rows_of(WEEK_ROWS.head(1), roster, PERIOD, by_week=False)
    assert printed([row], ("number", "site", "department", "hourly_rate")) == [("", "", "", None)]


def test_the_digest_depends_on_the_sources_and_not_on_their_order() -> None:
    one = pay.digest({"weeks": WEEK_ROWS, "people": ROSTER}, "rules")
    assert one == pay.digest({"people": ROSTER.reverse(), "weeks": WEEK_ROWS.reverse()}, "rules")
    assert one != pay.digest({"weeks": WEEK_ROWS.head(2), "people": ROSTER}, "rules")
    assert one != pay.digest({"weeks": WEEK_ROWS, "people": ROSTER}, "other rules")


def test_a_row_that_owes_nothing_is_written_where_a_hundredth_is_left_of_what_was_printed() -> None:
    # 3,617 s were told by an adjustment that printed 1.01 beside 3,610 s of a file that counts no longer. Alone they
    # are 1.00, so what replaces that file takes a hundredth back; printed as 1.00 there is nothing to write.
    week = {"person": "P1", "workweek": date(2026, 11, 1), "adjusts": False, "source": 4}
    asked = pay.asked_by(
        ImportDefinition(columns=(PayrollColumn("A", "person"), PayrollColumn("B", "overtime_hours"))), ()
    )
    time = TOLD_BEFORE.rows([week | {"item": "overtime", "seconds": 3617}])
    for printed, expected in (("1.01", [("P1", Decimal("-0.01"))]), ("1.00", [])):
        figures = PRINTED_BEFORE.rows([week | {"field": "overtime_hours", "figure": Decimal(printed)}])
        rows = pay.payroll_rows(OWED.empty(), ROSTER, PERIOD, by_week=True, told=pay.ToldBefore(time, figures))
        listed = pay.rows_to_print(asked, rows)
        assert list(pay.payroll_table(asked, listed).cells) == expected
    # Of a file that kept no figures its exact time counts, rounded.
    rows = pay.payroll_rows(OWED.empty(), ROSTER, PERIOD, by_week=True, told=pay.ToldBefore(time))
    assert pay.rows_to_print(asked, rows) == []
