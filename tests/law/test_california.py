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


def test_a_meal_is_due_where_the_fifth_hour_ends_though_work_goes_on_in_the_next_workday() -> None:
    # Labor Code 512(a), 11 Cal.5th 58: by the end of the fifth hour of work, 11:56, before the workday from noon on.
    worked = ("2026-05-11 06:56 in", "2026-05-11 11:56 out", "2026-05-11 12:22 in", "2026-05-11 15:29 out")
    owed = california(*worked, workweek_s=43_200, policy=Policy(meal_s=21 * 60)).premiums.filter(kind="meal")
    assert owed["workday"].to_list() == [date(2026, 5, 10)]
    assert "it had to begin by 2026-05-11 11:56" in owed["says"][0]


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
    # A fifth hour that ends at midnight ends with the next workday's first instant, days being half-open: our reading.
    owed = california("2026-05-10 19:00 in", "2026-05-11 04:30 out").premiums.filter(kind="meal")
    assert owed["workday"].to_list() == [date(2026, 5, 11)]
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


def owed_rows(hours: Any, kind: str) -> list[tuple[Any, ...]]:
    rows = hours.premiums.filter(kind=kind).select("person", "workweek", "workday", "hours", "punch", "says", "cites")
    return list(rows.rows())


def test_a_split_says_from_when_to_when_once_a_workday_and_whose() -> None:
    # Wage orders, sections 2 and 4(C): one hour at the minimum wage for a workday with a split shift, however often.
    presses = on_sunday("06:00 in", "08:00 out", "09:01 in", "11:00 out", "13:00 in", "15:00 out")
    says = (
        "an unpaid gap of {} from 2026-05-10 {} to 2026-05-10 {} splits the shift: an hour at the minimum wage, less "
        "what the workday paid above it, unless the person asked for the gap"
    )
    first, cites = says.format("1 h 1 min", "08:00", "09:01"), "IWC wage orders, section 4(C)"
    week, day = date(2026, 5, 10), date(2026, 5, 10)
    assert owed_rows(california(*presses), "split_shift") == [("Ada", week, day, Decimal(1), 2, first, cites)]
    # The next day's is that day's, another person's on the same day is theirs, and a gap of an hour is none.
    monday = "2026-05-11 06:00 in", "2026-05-11 10:00 out", "2026-05-11 12:00 in", "2026-05-11 14:00 out"
    bo = sheet(*on_sunday("06:00 in", "08:00 out", "10:00 in", "11:00 out"), zone=LA, person="Bo")
    cy = sheet(*on_sunday("06:00 in", "08:00 out", "09:00 in", "11:00 out"), zone=LA, person="Cy")
    both = sheet(*presses, *monday, zone=LA)
    people = pl.concat([both, bo.with_columns(pl.col("punch") + 20), cy.with_columns(pl.col("punch") + 30)])
    rows = owed_rows(hours_of(people, LA, jurisdiction="california"), "split_shift")
    assert [(who, day, punch) for who, _, day, _, punch, _, _ in rows] == [
        ("Ada", date(2026, 5, 10), 2), ("Ada", date(2026, 5, 11), 8), ("Bo", date(2026, 5, 10), 22)
    ]  # fmt: skip


def test_a_gap_of_any_length_within_a_workday_splits_it_and_one_over_its_line_does_not() -> None:
    # Wage orders, sections 2 and 4(C) have no longest gap: 06:00-08:00 and 13:01-15:00, five hours and a minute apart,
    # which the workplace's policy takes for two shifts. A gap over midnight lies in no one workday.
    apart = on_sunday("06:00 in", "08:00 out", "13:01 in", "15:00 out")
    assert len(owed_rows(california(*apart), "split_shift")) == 1
    over = ("2026-05-10 20:00 in", "2026-05-10 23:30 out", "2026-05-11 01:00 in", "2026-05-11 03:00 out")
    assert owed_rows(california(*over), "split_shift") == []
    # A workday that begins at 06:00 holds both (Labor Code 500(a)).
    assert len(owed_rows(california(*over, workweek_s=6 * 3600), "split_shift")) == 1


def test_nights_in_a_row_are_not_split_by_the_day_between_them() -> None:
    # Securitas v. Superior Court, 197 Cal.App.4th 115 (2011): the shift that ends in the morning and the one that
    # begins in the evening of one workday, here midnight to midnight, split nothing; an hour and a half within a night
    # does.
    nights = ["2026-05-10 22:00 in", "2026-05-11 04:00 out", "2026-05-11 22:00 in", "2026-05-12 04:00 out"]
    assert owed_rows(california(*nights), "split_shift") == []
    broken = ["2026-05-10 22:00 in", "2026-05-11 01:00 out", "2026-05-11 02:30 in", "2026-05-11 06:00 out", *nights[2:]]
    rows = owed_rows(california(*broken), "split_shift")
    assert [(row[2], row[4]) for row in rows] == [(date(2026, 5, 11), 2)]


def steps_of(hours: Any, rule: str) -> list[tuple[Any, ...]]:
    return list(hours.steps.filter(rule=rule).select("says", "seconds", "from_class", "to_class", "cites").rows())


def test_each_stretch_past_a_daily_limit_says_which_and_cites_the_section() -> None:
    # Labor Code 510(a): from 06:00 with half an hour's meal the eighth hour ends at 14:30, the twelfth at 18:30.
    hours = california(*on_sunday("06:00 in", "10:00 out", "10:30 in", "14:30 out", "15:00 in", "20:00 out"))
    said = "past a limit of the workday (8 h overtime, 12 h double time) from 2026-05-10 {} to 2026-05-10 {}: {}"
    cites = "Cal. Labor Code 510(a)"
    assert steps_of(hours, "california.daily") == [
        (said.format("15:00", "19:00", "overtime"), 0, "ordinary", "overtime", cites),
        (said.format("19:00", "20:00", "double time"), 0, "ordinary", "double", cites),
    ]


def test_a_seventh_day_says_so_for_each_class_it_makes() -> None:
    # Labor Code 510(a): eight hours at one and a half times, the ninth and tenth at twice.
    days = [f"2026-05-{day} {press}" for day in range(10, 17) for press in ("06:00 in", "10:00 out")]
    hours = california(*days[:-1], "2026-05-16 16:00 out")
    said = (
        "on the seventh workday worked in the workweek, from 2026-05-16 {} to 2026-05-16 {}: {} (8 h overtime, then "
        "double)"
    )
    cites = "Cal. Labor Code 510(a)"
    assert steps_of(hours, "california.seventh_day") == [
        (said.format("06:00", "14:00", "overtime"), 0, "ordinary", "overtime", cites),
        (said.format("14:00", "16:00", "double time"), 0, "overtime", "double", cites),
    ]


def test_the_rest_periods_of_a_shift_are_said_and_take_no_time() -> None:
    # Wage orders, section 12, from memory: two of ten minutes in eight hours, none under three and a half.
    hours = california(*on_sunday(*MEALS, "14:30 out"), "2026-05-11 06:00 in", "2026-05-11 09:29 out")
    says, cites = (
        "8 h of work entitle to paid rest periods of 10 minutes: 2",
        "IWC wage orders, section 12; Cal. Labor Code 226.7",
    )
    assert steps_of(hours, "california.rest_periods") == [(says, 0, None, None, cites)]
    # A paid break is time worked: 210 minutes with ten of rest among them are a shift of three and a half hours.
    rested = california(*on_sunday("06:00 in", "08:00 out", "08:10 in", "09:30 out"))
    assert [says for says, *_ in steps_of(rested, "california.rest_periods")] == [
        "3 h 30 min of work entitle to paid rest periods of 10 minutes: 1"
    ]


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


def test_reporting_time_is_each_persons_own_shift_and_says_what_it_rests_on() -> None:
    # Wage orders, section 5(A): half the scheduled day, at least two hours and at most four.
    starts = instant("2026-05-11 09:00", LA)
    planned = SCHEDULES.rows(
        {"person": who, "starts_at": starts + late, "ends_at": starts + late + hours * 3600}
        for who, late, hours in (("Ada", 0, 10), ("Bo", 0, 3), ("Bo", 86_400, 8), ("Cy", 0, 8), ("Di", 0, 8))
    )
    worked = {
        "Ada": ("2026-05-11 09:00 in", "2026-05-11 10:30 out"),
        "Bo": ("2026-05-11 09:00 in", "2026-05-11 10:00 out", "2026-05-12 09:00 in", "2026-05-12 13:00 out"),
        "Cy": ("2026-05-11 09:00 in",),
        "Di": ("2026-05-12 09:00 in", "2026-05-12 10:00 out"),
    }
    sheets = [sheet(*presses, zone=LA, person=who) for who, presses in worked.items()]
    people = pl.concat([one.with_columns(pl.col("punch") + 10 * k) for k, one in enumerate(sheets)])
    rows = owed_rows(hours_of(people, LA, jurisdiction="california", schedules=planned), "reporting")
    says = (
        "reported for a scheduled day of {} and worked {} in the workday, less than half: half the day is paid, "
        "at least 2 h and at most 4 h"
    )
    cites, week, day = "IWC wage orders, section 5(A)", date(2026, 5, 10), date(2026, 5, 11)
    # Bo's Tuesday was half worked, Cy's only punch leaves open how long was worked, and Di came on another day.
    assert rows == [
        ("Ada", week, day, Decimal("2.5"), 1, says.format("10 h", "1 h 30 min"), cites),
        ("Bo", week, day, Decimal(1), 11, says.format("3 h", "1 h"), cites),
    ]


def reported(*presses: str, planned: list[tuple[str, float]], **rules: Any) -> list[tuple[str, Decimal, str]]:
    """Return workday, hours and citation of what is owed for reporting, by scheduled starts and lengths [h]."""
    plans = SCHEDULES.rows(
        {"person": "Ada", "starts_at": instant(at, LA), "ends_at": instant(at, LA) + round(hours * 3600)}
        for at, hours in planned
    )
    found = hours_of(sheet(*presses, zone=LA), LA, jurisdiction="california", schedules=plans, **rules)
    rows = found.premiums.filter(kind="reporting").select("workday", "hours", "cites").rows()
    return [(str(day), hours, cites) for day, hours, cites in rows]


SHORT, SECOND = "IWC wage orders, section 5(A)", "IWC wage orders, section 5(B)"


@pytest.mark.parametrize(
    ("presses", "planned", "owed"),
    [
        # Section 5(A): "furnished less than half said employee's usual or scheduled day's work". Scheduled 06:00-14:00:
        # eleven hours to 17:00 are no less than half, nor two stretches of 3 and 7.5 hours, nor a shift swapped to
        # 13:00.
        (("06:00 in", "17:00 out"), [("06:00", 8)], []),
        (("06:00 in", "09:00 out", "09:30 in", "17:00 out"), [("06:00", 8)], []),
        (("13:00 in", "21:30 out"), [("06:00", 8)], []),
        # Two hours from 06:00 and three in the evening are five of eight; the evening's three are no second report
        # short of two hours (5(B)). One in the evening makes three of eight: 4 - 3 = 1 h, and 2 - 1 = 1 h for the
        # second report.
        (("06:00 in", "08:00 out", "18:00 in", "21:00 out"), [("06:00", 8)], []),
        (("06:00 in", "08:00 out", "18:00 in", "19:00 out"), [("06:00", 8)],
         [("2026-05-11", Decimal(1), SHORT), ("2026-05-11", Decimal(1), SECOND)]),
        # A second scheduled shift of the day that ends after half an hour owes an hour and a half; the day's own work,
        # four and a half hours of eight, is more than half.
        (("08:00 in", "12:00 out", "14:00 in", "14:30 out"), [("08:00", 4), ("14:00", 4)],
         [("2026-05-11", Decimal("1.5"), SECOND)]),
        # Half an hour after an hour and a half's meal is no second report, where nothing was scheduled for it.
        (("08:00 in", "12:00 out", "13:30 in", "14:00 out"), [("08:00", 8)], []),
    ],
)  # fmt: skip
def test_reporting_time_looks_at_the_work_of_the_whole_workday(
    presses: tuple[str, ...], planned: list[tuple[str, float]], owed: list[tuple[str, Decimal, str]]
) -> None:
    on = "2026-05-11 "
    assert reported(*(on + press for press in presses), planned=[(on + at, hours) for at, hours in planned]) == owed


def test_a_night_is_held_against_its_own_schedule_on_both_sides_of_midnight() -> None:
    # Section 5(A). Scheduled 22:00-06:00 twice: the first night whole, the second sent home after half an hour, though
    # six hours of the first lie in its workday: 4 - 0.5 = 3.5 h. Who comes at 01:30 works four and a half of eight:
    # nothing.
    first = "2026-05-10 22:00 in", "2026-05-11 06:00 out"
    nights = [("2026-05-10 22:00", 8.0), ("2026-05-11 22:00", 8.0)]
    sent_home = reported(*first, "2026-05-11 22:00 in", "2026-05-11 22:30 out", planned=nights)
    assert sent_home == [("2026-05-11", Decimal("3.5"), SHORT)]
    assert reported(*first, "2026-05-12 01:30 in", "2026-05-12 06:00 out", planned=nights) == []
    # A day's shift from 07:00 is the next schedule's, not the night's.
    then = [nights[0], ("2026-05-11 07:00", 8.0)]
    late = reported(
        "2026-05-10 22:00 in", "2026-05-10 23:00 out", "2026-05-11 07:00 in", "2026-05-11 15:00 out", planned=then
    )
    assert late == [("2026-05-10", Decimal(3), SHORT)]


def test_a_second_report_that_is_paid_as_a_call_back_is_owed_no_second_time() -> None:
    # Section 5(B) owes two hours for it; one was worked. A policy of three hours pays two beyond that, and nothing is
    # left; one of an hour and a half pays half an hour, and half an hour is left.
    presses = ("2026-05-11 06:00 in", "2026-05-11 14:00 out", "2026-05-11 20:00 in", "2026-05-11 21:00 out")
    planned = [("2026-05-11 06:00", 8.0)]
    assert reported(*presses, planned=planned, policy=Policy(call_back_s=3 * 3600)) == []
    left = reported(*presses, planned=planned, policy=Policy(call_back_s=5400))
    assert left == [("2026-05-11", Decimal("0.5"), SECOND)]
    assert reported(*presses, planned=planned) == [("2026-05-11", Decimal(1), SECOND)]


def test_a_second_report_shows_without_schedules_too_and_says_when() -> None:
    # Section 5(B): an hour's training in the evening after a shift of the day owes one hour more.
    presses = ("2026-05-11 06:00 in", "2026-05-11 14:00 out", "2026-05-11 20:00 in", "2026-05-11 21:00 out")
    [row] = owed_rows(california(*presses), "reporting")
    at = "2026-05-11 20:00"
    says = f"reported a second time in the workday, at {at}, and worked 1 h: 2 h are paid, unless nobody asked for it"
    assert row == ("Ada", date(2026, 5, 10), date(2026, 5, 11), Decimal(1), 3, says, SECOND)
    # Two hours are enough, an open punch leaves how long was worked open, and after midnight another workday has begun.
    assert owed_rows(california(*presses[:3], "2026-05-11 22:00 out"), "reporting") == []
    assert owed_rows(california(*presses[:3]), "reporting") == []
    assert owed_rows(california(*presses[:2], "2026-05-12 00:30 in", "2026-05-12 01:30 out"), "reporting") == []


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


TEN = {"alternative_day_s": 36_000}
CARE = {"alternative_day_s": 43_200, "health_care": True}


@pytest.mark.parametrize(
    ("rules", "days", "straight", "overtime", "double"),
    [
        # Labor Code 511(b); wage orders, section 3(B)(1). Four days of ten hours: no daily overtime; double past
        # twelve.
        (TEN, "0 10 10 10 10 0 0", 40, 0, 0),
        (TEN, "0 13 0 0 0 0 0", 10, 2, 1),
        # A fifth day is beyond the schedule's four: from its first hour at one and a half times, past eight at twice.
        (TEN, "0 10 10 10 10 0 10", 40, 8, 2),
        # So it is where the four had fewer hours than forty, which the week alone would leave ordinary.
        (TEN, "0 6 6 6 6 0 10", 24, 8, 2),
        (TEN | {"alternative_days": (0, 1, 2, 3)}, "0 10 10 0 0 0 10", 20, 8, 2),
        # Nine hours a day need five days for forty hours; the sixth is beyond them.
        ({"alternative_day_s": 32_400}, "0 8 8 8 8 4 9", 36, 8, 1),
        # Orders 4 and 5, section 3(B)(8): three days of twelve hours; the fourth's first four make forty (Singh, 140
        # Cal.App.4th 387: hours 37 to 40 of the fourth day are straight), eight are overtime. Past twelve at twice.
        (CARE, "0 12 12 12 0 0 0", 36, 0, 0),
        (CARE, "0 12 12 12 0 12 0", 40, 8, 0),
        (CARE, "0 13 0 0 0 0 0", 12, 0, 1),
        # A schedule of ten hours falls under section 3(B)(1) in health care too.
        (TEN | {"health_care": True}, "0 11 0 0 0 0 0", 10, 1, 0),
    ],
)
def test_alternative_schedules(rules: dict[str, Any], days: str, straight: int, overtime: int, double: int) -> None:
    worked = california(*days_of_work(days.split()), **rules)
    assert in_hours(worked) == {"straight_hours": straight, "overtime_1_5_hours": overtime, "double_time_hours": double}


def test_an_alternative_schedule_cites_its_own_section_and_says_its_hours() -> None:
    worked = california(*days_of_work(["0", "10", "10", "10", "10", "0", "9"]), **TEN)
    said = (
        "past the alternative schedule (10 h a scheduled day, 12 h double time; on other days from the first hour, 8 h "
        "double time) "
    )
    cites = "Cal. Labor Code 511(b); IWC wage orders, section 3(B)(1)"
    assert [(says, cited) for says, _, _, _, cited in steps_of(worked, "california.alternative_workweek")] == [
        (said + "from 2026-05-16 06:00 to 2026-05-16 10:00: overtime", cites),
        (said + "from 2026-05-16 10:30 to 2026-05-16 14:30: overtime", cites),
        (said + "from 2026-05-16 15:00 to 2026-05-16 16:00: double time", cites),
    ]
    assert steps_of(worked, "california.daily") == []
    care = california(*days_of_work(["13"]), **CARE)
    assert {cited for *_, cited in steps_of(care, "california.health_care_schedule")} == {
        "IWC wage orders 4 and 5, section 3(B)(8); 140 Cal.App.4th 387 (2006)"
    }


def test_the_hour_gained_when_clocks_go_back_counts_toward_the_daily_limit() -> None:
    # Los Angeles sets clocks back on 1 November 2026 at 02:00: 00:00 to 08:30 on the wall are nine and a half hours.
    hours = california("2026-11-01 00:00 in", "2026-11-01 04:00 out", "2026-11-01 04:30 in", "2026-11-01 08:30 out")
    assert in_hours(hours) == {"straight_hours": 8, "overtime_1_5_hours": 1, "double_time_hours": 0}


@pytest.mark.parametrize(("noon", "overtime"), [(0, 6), (12 * 3600, 0)])
def test_scheduled_nights_are_whole_days_where_the_workday_begins_between_them(noon: int, overtime: int) -> None:
    # Labor Code 500(a) leaves the workday's beginning to the employer, 511(b) counts by it: four nights of ten hours.
    # From midnight on Friday morning's six hours are a fifth day, outside the schedule (our reading).
    nights = [
        press
        for day in range(11, 15)
        for press in (f"2026-05-{day} 20:00 in", f"2026-05-{day + 1} 00:00 out", f"2026-05-{day + 1} 00:30 in",
                      f"2026-05-{day + 1} 06:30 out")
    ]  # fmt: skip
    hours = hours_of(sheet(*nights), jurisdiction="california", alternative_day_s=36_000, workweek_s=noon)
    assert hours.weeks["overtime_s"].sum() == overtime * 3600
    assert hours.weeks["ordinary_s"].sum() == (40 - overtime) * 3600
