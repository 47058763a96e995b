"""Published rules of other systems with a daily limit: 8 and 80, Alaska, Nevada, Colorado."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

import polars as pl
import pytest

from evenhand.law import compiling, compute_hours
from evenhand.pay import hourly_rates
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.sources import PEOPLE
from evenhand.terms.wages import RATES
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


@pytest.mark.parametrize(("salary", "overtime"), [("800", 0), ("720", 0), ("719.99", 8)])
def test_a_salary_that_comes_to_one_and_a_half_times_the_minimum_has_no_daily_limit(salary: str, overtime: int) -> None:
    # NRS 608.018(1) and 29 CFR 778.113(a): 800.00 over the 40 hours it covers are 20.00, 720.00 are 18.00, one and a
    # half times 12.00. Four days of ten hours.
    row = {"person": "Ada", "valid_from": date(2026, 1, 1), "amount": Decimal(salary), "plan": "salary_fixed",
           "covers_hours": Decimal(40)}  # fmt: skip
    rates = {
        who: [(since, until, Decimal(units) / 10_000)]
        for who, since, until, units in hourly_rates(RATES.rows([row]), PEOPLE.empty()).iter_rows()
    }
    assert overtime_h(hours_of(sheet(*days_of_work(["10"] * 4)), jurisdiction="nevada", rates=rates)) == overtime


def test_a_salary_for_whatever_hours_keeps_the_daily_limit_beside_a_higher_rate_of_one_reader() -> None:
    # NRS 608.018(1): what such a salary pays for an hour is not known before the week's hours are, so it may be below.
    row = {"person": "Ada", "valid_from": date(2026, 1, 1), "amount": Decimal(900), "plan": "salary_fluctuating"}
    at_reader = {"person": "Ada", "valid_from": date(2026, 1, 1), "amount": Decimal(30), "reader": "DYE"}
    rates = hourly_rates(RATES.rows([row, at_reader]), PEOPLE.empty())
    rules = SiteRules("invented", "America/Chicago", "nevada")
    hours = compute_hours(sheet(*days_of_work(["10"])), rules, Policy(), keep_steps=False, rates=rates)
    assert overtime_h(hours) == 2


@pytest.mark.parametrize(("raised_on", "overtime"), [(date(2026, 5, 11), 0), (date(2026, 5, 12), 2)])
def test_nevadas_rate_is_that_of_the_civil_day_on_which_work_begins(raised_on: date, overtime: int) -> None:
    # NRS 608.0126: the workday begins with the work, on 11 May at 07:00, whichever day of the site's own, from 23:30
    # on, holds it. 17.00 is below 18.00, one and a half times 12.00.
    rates = {"Ada": [(date.min, raised_on - timedelta(days=1), Decimal(17)), (raised_on, date.max, Decimal(30))]}
    punches = sheet("2026-05-11 07:00 in", "2026-05-11 17:00 out")
    hours = hours_of(punches, jurisdiction="nevada", rates=rates, workweek_s=84_600)
    assert overtime_h(hours) == overtime


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


def people_of(**presses: list[str]) -> Any:
    sheets = [sheet(*mine, person=who) for who, mine in presses.items()]
    return pl.concat([one.with_columns(pl.col("punch") + 100 * k) for k, one in enumerate(sheets)])


def overtime_of(hours: Any) -> list[tuple[str, date, float]]:
    rows = hours.weeks.select("person", "workweek", pl.col("overtime_s") / 3600).rows()
    return [(str(who), week, seconds) for who, week, seconds in rows]


def test_in_nevada_each_persons_rate_and_beginning_decide() -> None:
    # NRS 608.018, 608.0126: one and a half times 12.00 are 18.00. Ada is below it, Bo is not, Cy's rate is not known.
    # Each day of ten hours has two past eight; Di comes at 20:00 and works over midnight, which ends no workday.
    ten = days_of_work(["10", "10"])
    people = people_of(Ada=ten, Bo=ten, Cy=ten, Di=["2026-05-11 20:00 in", "2026-05-12 05:00 out"])
    rates = {"Ada": Decimal("17.9999"), "Bo": Decimal(18), "Di": Decimal(12)}
    assert overtime_of(hours_of(people, jurisdiction="nevada", rates=rates)) == [
        ("Ada", SUNDAY, 4), ("Bo", SUNDAY, 0), ("Cy", SUNDAY, 4), ("Di", SUNDAY, 1)
    ]  # fmt: skip


def test_nevada_judges_each_workday_by_the_rate_that_holds_on_it() -> None:
    # NRS 608.018: "at a rate less than one and one-half times the minimum". Ada earned 15.00 until Sunday and 20.00
    # from Monday on: her Sunday of ten hours has two past eight, her Monday none. Bo's 15.00 ended long ago, and his
    # next rate of 15.00 lies ahead; of Cy's two rates of one day the lower counts (our reading).
    ten = days_of_work(["10", "10"])
    later = date(2027, 1, 1)
    rates = {
        "Ada": [(date(2020, 1, 1), SUNDAY, Decimal(15)), (SUNDAY + timedelta(days=1), date.max, Decimal(20))],
        "Bo": [
            (date(2020, 1, 1), date(2022, 1, 1), Decimal(15)),
            (date(2022, 1, 2), date(2026, 12, 31), Decimal(20)),
            (later, date.max, Decimal(15)),
        ],
        "Cy": [(date(2020, 1, 1), date.max, Decimal(20)), (SUNDAY, SUNDAY, Decimal(17))],
    }
    assert overtime_of(hours_of(people_of(Ada=ten, Bo=ten, Cy=ten), jurisdiction="nevada", rates=rates)) == [
        ("Ada", SUNDAY, 2), ("Bo", SUNDAY, 0), ("Cy", SUNDAY, 2)
    ]  # fmt: skip


@pytest.mark.parametrize("hours", [9, 11, 12, 15])
def test_in_nevada_only_days_of_ten_hours_can_be_agreed_on(hours: int) -> None:
    # NRS 608.018(3)(b): a scheduled 10 hours a day for 4 calendar days within a week, by mutual agreement.
    with pytest.raises(Refusal, match="only days of 10 hours"):
        hours_of(sheet(*days_of_work(["10"])), jurisdiction="nevada", alternative_day_s=hours * 3600)


def test_a_nevadan_workday_ends_24_hours_after_it_began_and_the_next_begins_with_work() -> None:
    # NRS 608.0126: Monday from 12:00 to 18:00, Tuesday from 11:00 to 15:00. The hour up to 12:00 is the seventh of the
    # first workday, three belong to a second that begins at 12:00; Wednesday's, from 12:00 on, to a third of 9 hours.
    presses = ["2026-05-11 12:00 in", "2026-05-11 18:00 out", "2026-05-12 11:00 in", "2026-05-12 15:00 out"]
    last = ["2026-05-13 12:00 in", "2026-05-13 21:00 out"]
    hours = hours_of(sheet(*presses, *last), jurisdiction="nevada")
    assert overtime_h(hours) == 1
    said = (
        "past 8 hours in the 24 from the beginning of work, from 2026-05-13 20:00 on: overtime until 2026-05-13 21:00"
    )
    assert hours.steps.filter(rule="nevada.moving_workday").select("says", "seconds", "cites").rows() == [
        (said, 0, "NRS 608.018; NRS 608.0126")
    ]
    agreed = hours_of(
        sheet(*presses, *last[:1], "2026-05-13 23:00 out"), jurisdiction="nevada", alternative_day_s=36_000
    )
    assert overtime_h(agreed) == 1
    (said,) = agreed.steps.filter(rule="nevada.moving_workday")["says"]
    assert said.startswith("past 10 hours in the 24 from the beginning of work, from 2026-05-13 22:00 on")


def test_in_colorado_each_situation_has_the_larger_of_its_own_counts() -> None:
    # 7 CCR 1103-1, rule 4.1.1. Ada's night of 13.5 hours is split 6 and 7.5 by midnight: 1.5 past twelve consecutive.
    # Bo's two shifts of 7 h on one workday, eight hours apart, are 2 past twelve in it and never twelve at a stretch.
    # Cy has both in one week, on days that have nothing to do with each other: 1.5 by shift and 2 by workday, since
    # each is work in excess of 12 (whichever is greater "in any particular situation"). Di's night is followed by
    # six more hours on the workday in which it ended: 1.5 past twelve consecutive, 1.5 past twelve in the workday (7.5
    # and 6), one situation, so 1.5 and not 3. The next week Ada's eight hours have none.
    night = ["2026-05-11 18:00 in", "2026-05-12 07:30 out"]
    two = ["2026-05-14 01:00 in", "2026-05-14 08:00 out", "2026-05-14 16:00 in", "2026-05-14 23:00 out"]
    later = ["2026-05-18 08:00 in", "2026-05-18 16:00 out"]
    more = ["2026-05-12 14:00 in", "2026-05-12 20:00 out"]
    hours = hours_of(people_of(Ada=night + later, Bo=two, Cy=night + two, Di=night + more), jurisdiction="colorado")
    assert overtime_of(hours) == [
        ("Ada", SUNDAY, 1.5), ("Ada", SUNDAY + timedelta(days=7), 0), ("Bo", SUNDAY, 2),
        ("Cy", SUNDAY, 3.5), ("Di", SUNDAY, 1.5)
    ]  # fmt: skip


def test_in_colorado_four_hours_off_end_what_is_consecutive() -> None:
    # 7 CCR 1103-1, rule 4.1.1(C) leaves out duty-free meal periods; four hours off are none (our reading: past two).
    # 14:00 to 19:00 and 23:00 to 07:00 are 5 and 8 consecutive hours, and 6 and 7 of two workdays.
    presses = ["2026-05-11 14:00 in", "2026-05-11 19:00 out", "2026-05-11 23:00 in", "2026-05-12 07:00 out"]
    assert overtime_h(hours_of(sheet(*presses), jurisdiction="colorado")) == 0
    presses[1:3] = ["2026-05-11 21:00 out", "2026-05-11 23:00 in"]  # two hours off may be a meal: 15 consecutive
    assert overtime_h(hours_of(sheet(*presses), jurisdiction="colorado")) == 3


def test_in_colorado_a_meal_is_no_work_and_a_shift_counts_on_after_it() -> None:
    # Twelve consecutive hours leave duty-free meals out: 12 h 30 with half an hour's meal are none past twelve.
    assert overtime_h(hours_of(sheet("2026-05-11 18:00 in", "2026-05-11 23:00 out", "2026-05-11 23:30 in",
                                     "2026-05-12 06:30 out"), jurisdiction="colorado")) == 0  # fmt: skip
    assert overtime_h(hours_of(sheet("2026-05-11 18:00 in", "2026-05-11 23:00 out", "2026-05-11 23:30 in",
                                     "2026-05-12 07:00 out"), jurisdiction="colorado")) == Decimal("0.5")  # fmt: skip


def test_in_alaska_and_california_each_persons_days_and_weeks_are_their_own() -> None:
    # Ada's day ends where Bo's begins, at the same limits: nothing is carried from one to the other.
    ada, bo = ["2026-05-11 06:00 in", "2026-05-11 15:00 out"], ["2026-05-11 15:00 in", "2026-05-12 01:00 out"]
    for jurisdiction in ("alaska", "california"):
        hours = hours_of(people_of(Ada=ada, Bo=bo), jurisdiction=jurisdiction)
        assert overtime_of(hours) == [("Ada", SUNDAY, 1), ("Bo", SUNDAY, 1)]


def test_each_person_of_eight_and_eighty_has_eighty_hours_of_their_own() -> None:
    # 29 USC 207(j): eleven days of eight hours from Sunday on, the last of them past eighty; Bo's ten are not.
    days = [f"2026-05-{10 + k} {at}" for k in range(11) for at in ("06:00 in", "14:00 out")]
    hours = hours_of(people_of(Ada=days, Bo=days[:20]), jurisdiction="us_eight_and_eighty", fortnight=SUNDAY)
    week = SUNDAY + timedelta(days=7)
    assert overtime_of(hours) == [("Ada", SUNDAY, 0), ("Ada", week, 8), ("Bo", SUNDAY, 0), ("Bo", week, 0)]


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
