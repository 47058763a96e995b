"""Limits on working time: each figure is the directive's, or the regulations' that are named beside it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from evenhand.law import find_breaches
from evenhand.law.eu_2003_88.breaches import LIMITS
from evenhand.terms.hours import CLASSED
from evenhand.terms.settings import SiteRules
from tests.law.test_published_cases import CASES
from tests.law.weeks import hours_of, sheet

PARIS = "Europe/Paris"
HOUR_S = 3600
MONDAY = 1_789_344_000  # 2026-09-14T00:00Z


def case_of(name: str) -> dict[str, Any]:
    return next(case for case in CASES if case["id"] == name)


def limits_in_force() -> dict[str, int]:
    return {number.name: number.on(date(2026, 1, 1)) for number in LIMITS.numbers}


def breaches(*presses: str) -> list[tuple[str, float]]:
    hours = hours_of(sheet(*presses, zone=PARIS), PARIS, jurisdiction="eu_2003_88")
    found = find_breaches(hours.classed, SiteRules("invented", PARIS, "eu_2003_88"))
    return [(row["kind"], row["found_s"] / HOUR_S) for row in found.iter_rows(named=True)]


def breaches_of(*spans: tuple[int, float]) -> list[dict[str, Any]]:
    """Return what is found for spans of one shift each, given by their beginning and their hours, in UTC."""
    classed = CLASSED.rows(
        {"person": "Ada", "shift": shift, "starts": starts, "ends": starts + round(hours * HOUR_S)}
        for shift, (starts, hours) in enumerate(spans, start=1)
    )
    return find_breaches(classed, SiteRules("invented", "UTC", "eu_2003_88")).rows(named=True)


def test_nine_hours_between_shifts_are_two_short_of_daily_rest() -> None:
    case = case_of("eu-daily-rest")
    found = breaches(
        "2026-09-14 17:00 in", f"{case['inputs']['end_of_work']} out",
        f"{case['inputs']['next_start']} in", "2026-09-15 12:00 out",
    )  # fmt: skip
    assert found == [("daily_rest", float(case["expected"]["rest_hours"]))]


def test_rest_over_a_clock_change_is_counted_in_elapsed_time() -> None:
    # Directive art. 3, rest being a difference of instants: Paris skips an hour on 29 March 2026, so from 20:30 to
    # 07:30 on the wall are ten hours.
    assert breaches("2026-03-28 16:00 in", "2026-03-28 20:30 out", "2026-03-29 07:30 in", "2026-03-29 12:00 out") == [
        ("daily_rest", 10.0)
    ]


def test_exactly_eleven_hours_are_enough() -> None:
    assert breaches("2026-09-14 17:00 in", "2026-09-14 22:00 out", "2026-09-15 09:00 in", "2026-09-15 12:00 out") == []


def test_weekly_rest_is_the_longest_free_block() -> None:
    case = case_of("eu-weekly-rest")
    least = limits_in_force()["weekly_rest"]
    assert Decimal(least) == Decimal(case["inputs"]["minimum_hours"])
    for hours, breach in zip(
        case["inputs"]["longest_free_block_hours_in_7_days"], case["expected"]["breach"], strict=True
    ):
        found = breaches_of((MONDAY, 50), (MONDAY + (50 + int(hours)) * HOUR_S, 168 - 50 - int(hours)))
        rests = [row["found_s"] for row in found if row["kind"] == "weekly_rest"]
        assert rests == [int(hours) * HOUR_S] * breach


def test_seven_days_running_leave_no_weekly_rest() -> None:
    days = [f"2026-09-{day} {at}" for day in range(14, 21) for at in ("09:00 in", "13:00 out", "14:00 in", "18:00 out")]
    assert ("weekly_rest", 15.0) in breaches(*days)


def test_more_than_six_hours_without_a_break() -> None:
    # Directive art. 4: where the working day is longer than six hours.
    assert breaches("2026-09-14 08:00 in", "2026-09-14 14:00 out") == []
    assert breaches("2026-09-14 08:00 in", "2026-09-14 14:01 out") == [("break", 0.0)]


def test_the_average_week_over_seventeen_weeks() -> None:
    case = case_of("uk-48")
    limit = limits_in_force()
    assert limit["reference_weeks"] == case["inputs"]["weeks"]
    for hours, average, breach in zip(
        case["inputs"]["total_hours_17_weeks"], case["expected"]["average"], case["expected"]["breach"], strict=True
    ):
        # 48 hours in each of 17 weeks, and what there is beyond that in the last.
        worked = [48] * 16 + [int(hours) - 16 * 48]
        found = breaches_of(*((MONDAY + week * 168 * HOUR_S, length) for week, length in enumerate(worked)))
        averages = [row["says"].split(" h ")[0] for row in found if row["kind"] == "average_week"]
        assert averages == [average] * breach


def test_the_average_of_a_night_worker() -> None:
    case = case_of("uk-night")
    lengths = [int(hours) for hours in case["inputs"]["night_shift_hours"]]
    nights = [(MONDAY + (24 * day + 21) * HOUR_S, length) for day, length in enumerate(lengths) if length]
    assert not [row for row in breaches_of(*nights) if row["kind"] == "night_average"]
    assert case["expected"]["breach"] is False
    # Four nights of 12 h and once three minutes average just past 8 over six days; four of 12 h exactly 8.
    longer = [(starts, 12) for starts, _ in nights]
    assert not [row for row in breaches_of(*longer) if row["kind"] == "night_average"]
    (past,) = [row for row in breaches_of(*longer[:3], (nights[3][0], 12.05)) if row["kind"] == "night_average"]
    assert past["found_s"] == (48 * HOUR_S + 180) // case["inputs"]["days_counted_less_weekly_rest"]


@pytest.mark.parametrize(("ends", "kinds"), [("06:00", []), ("06:30", ["night_average"])])
def test_six_nights_a_week_average_eight_hours_at_most(ends: str, kinds: list[str]) -> None:
    # Directive art. 8 with the divisor of UK reg. 6 (seven days less one of rest): 6 x 8 h average 8, 6 x 8.5 h 8.5.
    nights = [f"2026-09-{d} {t}" for k in range(14, 20) for d, t in ((k, "21:00 in"), (k + 1, "01:00 out"))]
    ends_at = [f"2026-09-{k + 1} {t}" for k in range(14, 20) for t in ("02:00 in", f"{ends} out")]
    presses = sorted(nights + ends_at)
    assert [kind for kind, _ in breaches(*presses) if kind == "night_average"] == kinds
