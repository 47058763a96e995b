"""Published rules of other systems with a daily limit: 8 and 80, Alaska, Nevada, Colorado."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest

from evenhand.law import compiling
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Policy
from tests.law.test_california import days_of_work
from tests.law.test_published_cases import CASES, cases
from tests.law.weeks import hours_of, sheet

SUNDAY = date(2026, 5, 10)


def case_of(name: str) -> dict[str, Any]:
    return next(case for case in CASES if case["id"] == name)


def overtime_h(hours: Any) -> Decimal:
    return Decimal(hours.weeks["overtime_s"].sum()) / 3600


@cases("eight_and_eighty")
def test_eight_and_eighty_pays_the_larger_of_the_two_counts(case: dict[str, Any]) -> None:
    by_day = case["inputs"]["hours_by_day"]
    punches = sheet(*days_of_work(by_day))
    hours = hours_of(punches, jurisdiction="us_eight_and_eighty", fortnight=SUNDAY)
    assert overtime_h(hours) == Decimal(case["expected"]["overtime_hours"])
    total = hours.weeks.select("ordinary_s", "overtime_s").sum().row(0)
    assert sum(total) == Decimal(case["expected"]["total_hours"]) * 3600


def test_eight_and_eighty_wants_to_know_where_its_fourteen_days_begin() -> None:
    for fortnight in (None, SUNDAY + timedelta(days=1)):
        with pytest.raises(Refusal, match="fortnight_begins"):
            hours_of(sheet(*days_of_work(["8"])), jurisdiction="us_eight_and_eighty", fortnight=fortnight)


def test_alaska_leaves_daily_overtime_out_of_the_forty() -> None:
    case = case_of("ak-5x9")
    hours = hours_of(sheet(*days_of_work(case["inputs"]["hours_by_day"])), jurisdiction="alaska")
    assert overtime_h(hours) == Decimal(case["expected"]["total_overtime"])


def test_an_alaskan_flexible_plan_has_days_of_ten_hours() -> None:
    # 8 AAC 15.102: four days of ten hours without daily overtime under an approved plan.
    worked = sheet(*days_of_work(["10", "10", "10", "10"]))
    assert overtime_h(hours_of(worked, jurisdiction="alaska")) == 8
    assert overtime_h(hours_of(worked, jurisdiction="alaska", alternative_day_s=36_000)) == 0


@pytest.mark.parametrize("name", ["nv-10h-15_00", "nv-10h-20_00", "nv-10h-17_99", "nv-10h-18_00"])
def test_nevada_has_a_daily_limit_below_one_and_a_half_times_the_minimum_wage(name: str) -> None:
    case = case_of(name)
    rates = {"Ada": Decimal(case["inputs"]["hourly_rate"])}
    hours = hours_of(sheet(*days_of_work(["10"])), jurisdiction="nevada", rates=rates)
    assert overtime_h(hours) == Decimal(case["expected"]["daily_overtime"])


def test_nevadas_workday_runs_from_when_work_begins() -> None:
    # NRS 608.0126. 12:00 to 20:00, then 06:00 to 14:00: the second begins within 24 hours of the first, so six of
    # its hours (06:00 to 12:00) are past eight in that workday; at 12:00 a new one begins.
    hours = hours_of(
        sheet("2026-05-11 12:00 in", "2026-05-11 20:00 out", "2026-05-12 06:00 in", "2026-05-12 14:00 out"),
        jurisdiction="nevada",
        rates={"Ada": Decimal("15.00")},
    )
    assert overtime_h(hours) == 6
    assert hours.steps.filter(to_class="overtime")["says"].to_list() == [
        "past 8 hours in the 24 from the beginning of work, from 2026-05-12 06:00 on: overtime until 2026-05-12 12:00"
    ]


@pytest.mark.parametrize("is_large", [False, True], ids=["plain", "compiled"])
def test_one_span_of_nevada_may_hold_several_workdays(monkeypatch: pytest.MonkeyPatch, *, is_large: bool) -> None:
    # NRS 608.0126: 60 h running are workdays of 24, 24 and 12 h, with 8 h of each free of overtime: 16 + 16 + 4.
    monkeypatch.setattr(compiling, "is_large", lambda _punches: is_large)
    policy = Policy(longest_span_s=72 * 3600, long_span_s=72 * 3600)
    hours = hours_of(sheet("2026-05-11 06:00 in", "2026-05-13 18:00 out"), policy=policy, jurisdiction="nevada")
    assert overtime_h(hours) == 36


def test_without_a_known_rate_nevadas_daily_limit_is_applied() -> None:
    assert overtime_h(hours_of(sheet(*days_of_work(["10"])), jurisdiction="nevada")) == 2


def test_an_agreed_four_day_week_has_no_daily_overtime_in_nevada() -> None:
    # NRS 608.018: by agreement ten hours on four days.
    worked = sheet(*days_of_work(["10", "10", "10", "10"]))
    assert overtime_h(hours_of(worked, jurisdiction="nevada", alternative_day_s=36_000)) == 0


def test_colorado_pays_past_twelve_hours_in_a_workday() -> None:
    case = case_of("co-13")
    hours = hours_of(sheet(*days_of_work([case["inputs"]["shift_hours"], "8", "8", "8", "2"])), jurisdiction="colorado")
    assert overtime_h(hours) == Decimal(case["expected"]["overtime_hours"])


def test_colorado_counts_twelve_consecutive_hours_over_the_workdays_line() -> None:
    # 7 CCR 1103-1, rule 4.1.1: 18:00 to 07:30 is 13.5 hours, split 6 and 7.5 by midnight, yet 1.5 past twelve.
    hours = hours_of(sheet("2026-05-11 18:00 in", "2026-05-12 07:30 out"), jurisdiction="colorado")
    assert overtime_h(hours) == Decimal("1.5")


def test_colorado_pays_the_largest_count_and_never_a_sum() -> None:
    # Four days of 13 hours: 4 past twelve a day, 12 past forty in the week; the larger count is 12, not 16.
    worked = sheet(*days_of_work(["13", "13", "13", "13"]))
    assert overtime_h(hours_of(worked, jurisdiction="colorado")) == 12


@pytest.mark.parametrize("jurisdiction", ["california", "alaska", "colorado", "nevada"])
def test_no_state_gives_less_than_the_federal_week(jurisdiction: str) -> None:
    start = datetime(2026, 5, 10)
    for pattern in (["7"] * 7, ["12"] * 4, ["6"] * 7, ["13", "5", "9", "12", "8", "3"]):
        worked = sheet(*days_of_work(pattern, start))
        state = hours_of(worked, jurisdiction=jurisdiction).weeks
        premium = state["overtime_s"].sum() + state["double_s"].sum()
        assert premium >= hours_of(worked).weeks["overtime_s"].sum()
