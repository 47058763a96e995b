"""California's published rules and worked figures; each case names its source."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

import polars as pl
import pytest

from evenhand.law.california.reporting_time import reporting_s
from evenhand.law.california.rest_periods import rests_due
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Grace, Policy
from evenhand.terms.sources import SCHEDULES
from tests.law.test_published_cases import CASES, cases
from tests.law.weeks import hours_of, instant, sheet

LA = "America/Los_Angeles"
SUNDAY = datetime(2026, 5, 10)


def california(*presses: str, policy: Policy | None = None, **rules: Any) -> Any:
    return hours_of(sheet(*presses, zone=LA), LA, policy, jurisdiction="california", **rules)


def days_of_work(hours_by_workday: list[str], first: datetime = SUNDAY) -> list[str]:
    """Return marked punches of days that begin at 06:00, with an unpaid half-hour meal after four hours."""
    punches = []
    for day, hours in enumerate(hours_by_workday):
        now, left = first + timedelta(days=day, hours=6), timedelta(hours=float(hours))
        while left > timedelta(0):
            worked = min(left, timedelta(hours=4))
            punches += [f"{now.isoformat(' ')} in", f"{(now + worked).isoformat(' ')} out"]
            now, left = now + worked + timedelta(minutes=30), left - worked
    return punches


def in_hours(hours: Any, week: int = 0) -> dict[str, Decimal]:
    row = hours.weeks.row(week, named=True)
    names = {"straight_hours": "ordinary_s", "overtime_1_5_hours": "overtime_s", "double_time_hours": "double_s"}
    return {name: Decimal(row[column]) / 3600 for name, column in names.items()}


def expected_hours(expected: dict[str, str]) -> dict[str, Decimal]:
    return {name: Decimal(value) for name, value in expected.items()}


@cases("ca_overtime_classes")
def test_hours_fall_into_classes(case: dict[str, Any]) -> None:
    given, expected = case["inputs"], case["expected"]
    if "shift" in given:
        for start, hours in expected["daily_overtime_hours"].items():
            worked = california(
                f"{given['shift']['start']} in", f"{given['shift']['end']} out", workweek_s=int(start[:2]) * 3600
            )
            assert worked.weeks["overtime_s"].sum() == Decimal(hours) * 3600
        return
    weeks = given.get("weeks", [given])
    answers = expected.get("weeks", [expected])
    punches = [
        punch
        for k, week in enumerate(weeks)
        for punch in days_of_work(week["hours_by_workday"], SUNDAY + timedelta(days=7 * k))
    ]
    worked = california(*punches)
    for k, answer in enumerate(answers):
        assert in_hours(worked, k) == expected_hours(answer)


def a_shift(*parts: float, breaks: float = 30) -> list[str]:
    """Return marked punches of one shift from 06:00: stretches of work in minutes, with breaks between."""
    now, punches = SUNDAY + timedelta(hours=6), []
    for part in parts:
        punches += [f"{now.isoformat(' ')} in", f"{(now + timedelta(minutes=part)).isoformat(' ')} out"]
        now += timedelta(minutes=part + breaks)
    return punches


def meals_owed(hours: Any) -> Decimal:
    return sum(hours.premiums.filter(kind="meal")["hours"], Decimal(0))


def test_a_short_meal_is_owed_an_hour_though_it_would_round_to_thirty_minutes() -> None:
    case = next(c for c in CASES if c["id"] == "ca-meal-round")
    owed = california("2026-05-11 07:00 in", "2026-05-11 11:02 out", "2026-05-11 11:25 in", "2026-05-11 15:30 out")
    assert meals_owed(owed) == Decimal(case["expected"]["premium_hours"])
    assert f"longest break {case['expected']['actual_meal_minutes']} min" in owed.premiums["says"][0]


def test_a_meal_after_five_hours_and_five_minutes_is_late() -> None:
    case = next(c for c in CASES if c["id"] == "ca-meal-late")
    before = case["inputs"]["worked_before_meal_minutes"]
    owed = california(*a_shift(before, 480 - before))
    assert meals_owed(owed) == Decimal(case["expected"]["premium_hours"])
    assert "began at 2026-05-10 11:05; it had to begin by 2026-05-10 11:00" in owed.premiums["says"][0]
    assert meals_owed(california(*a_shift(300, 180))) == 0


@cases("ca_meal_due")
def test_meal_periods_fall_due_by_the_length_of_the_work(case: dict[str, Any]) -> None:
    worked, expected = case["inputs"]["worked_minutes"], case["expected"]
    nothing = california(*a_shift(worked))
    assert (meals_owed(nothing) > 0) == (expected["meals_due"] > 0)
    assert (meals_owed(california(*a_shift(worked), first_meal_waived=("Ada",))) == 0) == (
        expected["meals_due"] == 0 or expected["first_waivable"]
    )
    one_taken = (240, worked - 240)
    assert (meals_owed(california(*a_shift(*one_taken))) > 0) == (expected["meals_due"] == 2)
    waived = meals_owed(california(*a_shift(*one_taken), second_meal_waived=("*",)))
    assert (waived == 0) == (expected["meals_due"] < 2 or expected["second_waivable_if_first_taken"])
    both_taken = (240, 240, worked - 480) if worked > 480 else one_taken
    assert meals_owed(california(*a_shift(*both_taken))) == 0


def test_a_workday_without_both_meals_is_owed_one_hour() -> None:
    # Cal. Labor Code 226.7(c), case ca-226.7: one hour for each workday, however many meal periods were missed.
    assert meals_owed(california(*a_shift(660))) == 1


MEALS = "06:00 in", "10:00 out", "10:30 in"  # four hours, the first meal period of 30 minutes


def on_sunday(*presses: str) -> list[str]:
    return [f"2026-05-10 {press}" for press in presses]


@pytest.mark.parametrize(
    ("presses", "says"),
    [
        # Labor Code 512(a) and 11 Cal.5th 58: a second meal period begins no later than the end of the tenth hour of
        # work. Four hours before the first and six after it end at 16:30.
        (on_sunday(*MEALS, "16:30 out", "17:00 in", "18:00 out"), None),
        (
            on_sunday(*MEALS, "16:31 out", "17:01 in", "18:00 out"),
            "the second meal period of 30 minutes began at 2026-05-10 16:31; it had to begin by 2026-05-10 16:30, the "
            "end of the tenth hour of work",
        ),
        # One of 29 minutes is none, and the longest break is the first: 240 and 361 and 60 minutes of work.
        (
            on_sunday(*MEALS, "16:31 out", "17:00 in", "18:00 out"),
            "no second meal period of 30 minutes was recorded in a shift of 11 h 30 min of work; it had to begin by "
            "2026-05-10 16:30, the end of the tenth hour (longest break 30 min)",
        ),
        # A rest of ten minutes is time worked, also toward the tenth hour: from 06:00 it ends at 16:30 all the same.
        (
            on_sunday(*MEALS, "12:00 out", "12:10 in", "17:00 out"),
            "no second meal period of 30 minutes was recorded in a shift of 10 h 30 min of work; it had to begin by "
            "2026-05-10 16:30, the end of the tenth hour (longest break 30 min)",
        ),
        # Ten hours of work are not more than ten.
        (on_sunday(*MEALS, "16:30 out"), None),
        # Neither was had: of the workday's one hour the first meal period is the reason.
        (
            on_sunday("06:00 in", "17:00 out"),
            "no first meal period of 30 minutes was recorded in a shift of 11 h of work; it had to begin by "
            "2026-05-10 11:00, the end of the fifth hour (longest break 0 min)",
        ),
    ],
)
def test_a_second_meal_period_begins_by_the_end_of_the_tenth_hour(presses: list[str], says: str | None) -> None:
    assert meals_said(california(*presses)) == ([says] if says else [])


def meals_said(hours: Any) -> list[str]:
    return list(hours.premiums.filter(kind="meal")["says"])


@pytest.mark.parametrize(("last", "owed"), [("18:30", 0), ("18:31", 1)])
def test_a_second_meal_period_may_be_waived_up_to_twelve_hours_by_whom_it_was_waived(last: str, owed: int) -> None:
    # Labor Code 512(a): where the total hours worked are no more than twelve, and the first was not waived.
    shift = on_sunday(*MEALS, f"{last} out")
    assert meals_owed(california(*shift, second_meal_waived=("Ada",))) == owed
    assert meals_owed(california(*shift, second_meal_waived=("Bo",))) == 1
    assert meals_owed(california(*shift, first_meal_waived=("*",))) == 1


def test_an_hour_is_owed_for_each_workday_and_each_person() -> None:
    # Labor Code 226.7(c): "for each workday". From 18:30 the fifth hour ends before midnight, the tenth after it.
    night = ("2026-05-10 18:30 in", "2026-05-11 05:30 out")
    owed = california(*night).premiums.filter(kind="meal")
    assert owed["workday"].to_list() == [date(2026, 5, 10), date(2026, 5, 11)]
    # A second waived counts only where the first was had (512(a): "the first meal period was not waived").
    assert meals_owed(california(*night, second_meal_waived=("*",))) == 2
    # Two shifts of a workday without a meal are one hour, and another person's on that day is theirs.
    twice = on_sunday("00:00 in", "05:30 out", "12:00 in", "17:30 out")
    assert meals_owed(california(*twice)) == 1
    two = pl.concat([sheet(*twice, zone=LA), sheet(*twice, zone=LA, person="Bo").with_columns(pl.col("punch") + 4)])
    owed = hours_of(two, LA, jurisdiction="california").premiums.filter(kind="meal")
    assert owed.select("person", "hours").rows() == [("Ada", Decimal(1)), ("Bo", Decimal(1))]


def test_rest_periods_by_four_hours_or_the_major_part_of_them() -> None:
    # Wage orders, section 12, from memory: over 3.5 to 6 h one, over 6 to 10 h two, over 10 to 14 h three.
    given = {3.4: 0, 3.5: 1, 6: 1, 6.1: 2, 10: 2, 10.1: 3, 14: 3}
    assert {hours: rests_due(int(hours * 3600), 12_600, 14_400) for hours in given} == given


@cases("ca_split_shift")
def test_a_split_shift_is_owed_an_hour(case: dict[str, Any]) -> None:
    given = case["inputs"]
    presses = [f"2026-05-11 {at} {way}" for part in given["work"] for at, way in zip(part, ("in", "out"), strict=True)]
    owed = california(*presses)
    assert owed.premiums.filter(kind="split_shift")["hours"].to_list() == [Decimal(1)]


def test_a_meal_of_an_hour_does_not_split_a_shift() -> None:
    assert california(*a_shift(240, 240, breaks=60)).premiums.filter(kind="split_shift").is_empty()


@cases("ca_reporting_time")
def test_reporting_for_a_shift_that_is_cut_short_is_paid(case: dict[str, Any]) -> None:
    scheduled, worked = (int(case["inputs"][name]) * 3600 for name in ("scheduled_hours", "worked_hours"))
    owed = reporting_s(scheduled, worked, 7200, 14_400)
    assert owed == int(case["expected"]["reporting_time_hours"]) * 3600
    assert owed + worked == int(case["expected"]["hours_paid"]) * 3600


def test_reporting_time_shows_beside_hours_and_not_in_them() -> None:
    # Wage orders, section 5(A): scheduled 8 hours, worked 1: three hours more are paid, one counts as worked.
    starts = instant("2026-05-11 09:00", LA)
    planned = SCHEDULES.rows([{"person": "Ada", "starts_at": starts, "ends_at": starts + 8 * 3600}])
    attributed = sheet("2026-05-11 09:00 in", "2026-05-11 10:00 out", zone=LA)
    hours = hours_of(attributed, LA, jurisdiction="california", schedules=planned)
    assert hours.premiums.select("kind", "hours").rows() == [("reporting", Decimal(3))]
    assert hours.weeks["ordinary_s"].to_list() == [3600]


@pytest.mark.parametrize(
    ("rules", "policy", "says"),
    [
        ({"rounding_s": 900}, Policy(), "rounding_minutes"),
        ({}, Policy(trifle_s=300), "trifle_seconds"),
        ({}, Policy(grace=Grace(start_early_s=300)), "grace"),
        ({"alternative_day_s": 11 * 3600}, Policy(), "alternative_day_hours is 11"),
    ],
)
def test_what_would_pay_less_than_was_recorded_is_refused(rules: dict[str, int], policy: Policy, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        california(*a_shift(480), policy=policy, **rules)


def test_an_alternative_schedule_moves_the_daily_limit() -> None:
    # Cal. Labor Code 511: four days of ten hours without daily overtime, double time still past twelve.
    worked = california(*days_of_work(["10", "10", "10", "10"]), alternative_day_s=36_000)
    assert in_hours(worked) == {"straight_hours": 40, "overtime_1_5_hours": 0, "double_time_hours": 0}
    longer = california(*days_of_work(["13"]), alternative_day_s=36_000)
    assert in_hours(longer) == {"straight_hours": 10, "overtime_1_5_hours": 2, "double_time_hours": 1}


def test_the_hour_gained_when_clocks_go_back_counts_toward_the_daily_limit() -> None:
    # Los Angeles sets clocks back on 1 November 2026 at 02:00: 00:00 to 08:30 on the wall are nine and a half hours.
    hours = california("2026-11-01 00:00 in", "2026-11-01 04:00 out", "2026-11-01 04:30 in", "2026-11-01 08:30 out")
    assert in_hours(hours) == {"straight_hours": 8, "overtime_1_5_hours": 1, "double_time_hours": 0}
