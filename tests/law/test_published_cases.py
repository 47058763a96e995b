"""Worked examples of the regulations and of the Wage and Hour Division; each case names its source."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from evenhand.terms.columns import Frame
from tests.law.weeks import hours_of, instant, paid_minutes, sheet

CASES = json.loads((Path(__file__).parent.parent / "published/hours/cases.json").read_text(encoding="utf-8"))
SUNDAY = instant("2026-05-10 00:00")


def cases(kind: str) -> Any:
    return pytest.mark.parametrize("case", [pytest.param(c, id=c["id"]) for c in CASES if c["kind"] == kind])


def week_of_work(hours: Decimal, begins: int = SUNDAY) -> list[str]:
    """Return marked punches for that many hours from a Sunday on, at most twelve a day."""
    left, day, punches = int(hours * 3600), 0, []
    while left > 0:
        start = begins + day * 86_400 + 6 * 3600
        worked = min(left, 12 * 3600)
        for at, way in ((start, "in"), (start + worked, "out")):
            punches.append(f"{datetime.fromtimestamp(at, UTC).isoformat()} {way}")
        left, day = left - worked, day + 1
    return punches


def overtime_hours(attributed: Frame) -> list[Decimal]:
    return [Decimal(seconds) / 3600 for seconds in hours_of(attributed).weeks["overtime_s"]]


@cases("threshold")
def test_hours_past_forty_in_the_workweek_are_overtime(case: dict[str, Any]) -> None:
    by_day = case["inputs"].get("hours_by_day")
    hours = sum(map(Decimal, by_day)) if by_day else Decimal(case["inputs"]["hours"])
    assert overtime_hours(sheet(*week_of_work(Decimal(hours)))) == [Decimal(case["expected"]["overtime_hours"])]


@cases("workweek")
def test_each_workweek_stands_alone(case: dict[str, Any]) -> None:
    if case["id"] == "us-778.104":
        first, second = map(Decimal, case["inputs"]["hours_by_week"])
        punches = week_of_work(first) + week_of_work(second, SUNDAY + 7 * 86_400)
        assert overtime_hours(sheet(*punches)) == [Decimal(h) for h in case["expected"]["overtime_hours_by_week"]]
        return
    shift = case["inputs"]["shift"]
    before = week_of_work(Decimal(case["inputs"]["hours_already_in_old_week"]))
    weeks = hours_of(sheet(*before, f"{shift['start']} in", f"{shift['end']} out")).weeks
    assert weeks["recorded_s"].to_list() == [(39 + 2) * 3600, 6 * 3600]
    assert weeks["overtime_s"][0] == Decimal(case["expected"]["overtime_hours_old_week"]) * 3600


@cases("rounding_table")
def test_each_minute_rounds_to_the_nearest_increment(case: dict[str, Any]) -> None:
    for minute, rounded in zip(case["inputs"]["minutes"], case["expected"]["rounded"], strict=True):
        if rounded is None:  # the text leaves the tie open; our rule is shown in test_rounding
            continue
        punches = [(datetime(2026, 3, 2, 8) + timedelta(minutes=minute)).isoformat(" "), "2026-03-02 16:00"]
        hours = hours_of(sheet(*punches), rounding_s=60 * case["inputs"]["increment_minutes"])
        assert paid_minutes(hours) == 8 * 60 - rounded


def test_early_in_and_late_out_round_by_the_quarter_hour() -> None:
    case = next(c for c in CASES if c["id"] == "us-fs53-ex2")
    given, expected = case["inputs"], case["expected"]
    lunch = ("11:30 out", "12:00 in")  # the sheet says a half-hour lunch, not when
    punches = [
        f"2026-03-0{day} {press}"
        for day in range(2, 7)
        for press in (f"{given['punch_in']} in", *lunch, f"{given['punch_out']} out")
    ]
    weeks = hours_of(sheet(*punches), rounding_s=900).weeks
    assert weeks["recorded_s"].to_list() == [int(expected["exact_minutes_week"]) * 60]
    assert weeks["ordinary_s"][0] + weeks["overtime_s"][0] == Decimal(expected["hours_week"]) * 3600
    assert weeks["overtime_s"][0] == Decimal(expected["overtime_hours"]) * 3600


def test_the_sample_time_sheet_by_punch_and_exactly() -> None:
    case = next(c for c in CASES if c["id"] == "us-fs21-sheet")
    exact, by_quarter = [], []
    for day in case["inputs"]["days"]:
        attributed = sheet(*(f"{day['date']} {time}" for time in day["punches"]))
        exact.append(paid_minutes(hours_of(attributed)))
        by_quarter.append(Decimal(paid_minutes(hours_of(attributed, rounding_s=900))) / 60)
    assert exact == case["expected"]["exact_minutes_by_day"]
    assert by_quarter == [Decimal(h) for h in case["expected"]["hours_if_each_punch_rounded_15"]]


@cases("break_compensability")
def test_a_break_counts_as_work_or_as_a_meal(case: dict[str, Any]) -> None:
    breaks = case["inputs"].get("break_minutes_list") or [case["inputs"]["break_minutes"]]
    now, punches = datetime(2026, 3, 2, 8), ["2026-03-02 08:00"]
    for minutes in breaks:
        now += timedelta(hours=2)
        punches += [now.isoformat(" "), (now + timedelta(minutes=minutes)).isoformat(" ")]
        now += timedelta(minutes=minutes)
    punches.append((now + timedelta(hours=2)).isoformat(" "))
    worked = 120 * (len(breaks) + 1)
    assert paid_minutes(hours_of(sheet(*punches))) == worked + sum(breaks) * case["expected"]["counts_as_work"]


@cases("elapsed_time")
def test_pay_follows_elapsed_time_when_clocks_change(case: dict[str, Any]) -> None:
    given = case["inputs"]
    zone = given["zone"]
    starts, ends = instant(given["start"]), instant(given["end"])
    presses = [starts]
    if meal := given.get("unpaid_meal_minutes"):
        presses += [starts + 2 * 3600, starts + 2 * 3600 + meal * 60]
    presses.append(ends)
    attributed = sheet(*(datetime.fromtimestamp(at, UTC).isoformat() for at in presses), zone=zone)
    for rounding_s in (0, 900):
        hours = hours_of(attributed, zone, rounding_s=rounding_s)
        assert Decimal(paid_minutes(hours)) / 60 == Decimal(case["expected"]["hours_worked"])


def test_a_workweek_over_a_clock_change_has_167_or_169_hours() -> None:
    # 29 CFR 778.105, boundaries being civil times: Chicago sets clocks forward on 8 March and back on
    # 1 November 2026. 167 hours after Sunday 8 March 00:00 the next week has begun; 168 hours after Sunday
    # 1 November 00:00 the old one still lasts.
    spring = hours_of(
        sheet("2026-03-08 00:00 in", "2026-03-08 00:30 out", "2026-03-15 00:00 in", "2026-03-15 00:30 out")
    )
    assert instant("2026-03-15 00:00") - instant("2026-03-08 00:00") == 167 * 3600
    assert spring.weeks["recorded_s"].to_list() == [1800, 1800]
    autumn = hours_of(
        sheet("2026-11-01 00:00 in", "2026-11-01 00:30 out", "2026-11-07 23:00 in", "2026-11-07 23:30 out")
    )
    assert instant("2026-11-07 23:00") - instant("2026-11-01 00:00") == 168 * 3600
    assert autumn.weeks["recorded_s"].to_list() == [3600]
