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


def test_the_digest_depends_on_the_sources_and_not_on_their_order() -> None:
    one = pay.digest({"weeks": WEEK_ROWS, "people": ROSTER}, "rules")
    assert one == pay.digest({"people": ROSTER.reverse(), "weeks": WEEK_ROWS.reverse()}, "rules")
    assert one != pay.digest({"weeks": WEEK_ROWS.head(2), "people": ROSTER}, "rules")
    assert one != pay.digest({"weeks": WEEK_ROWS, "people": ROSTER}, "other rules")
