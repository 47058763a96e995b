"""A missing punch is proposed from the person's own habits, with how sure, and never applied."""

from __future__ import annotations

from typing import Any

import pytest

from evenhand.law import propose_punches
from evenhand.terms.columns import Frame
from evenhand.terms.sources import SCHEDULES
from tests.law.weeks import CHICAGO, hours_of, instant, sheet


def proposals(*presses: str, planned: Frame | None = None) -> list[dict[str, Any]]:
    hours = hours_of(sheet(*presses))
    schedules = SCHEDULES.empty() if planned is None else planned
    return propose_punches(hours.questions, hours.classed, schedules, CHICAGO).rows(named=True)


WEEK = [f"2026-03-0{d} {t}" for d in (2, 3, 4, 5) for t in ("08:00 in", "16:30 out")]


def test_the_usual_end_is_proposed_for_a_start_without_one() -> None:
    (found,) = proposals(*WEEK, "2026-03-06 08:00 in")
    assert found["at"] == instant("2026-03-06 16:30")
    assert (found["kind"], found["punch"], found["seen"]) == ("missing_out", 9, 4)
    # Rule of succession: 4 of 4 within 15 minutes gives (4 + 1) / (4 + 2).
    assert found["likely"] == pytest.approx(5 / 6)


def test_a_missing_start_is_proposed_before_the_end() -> None:
    (found,) = proposals(*WEEK, "2026-03-06 16:30 out")
    assert (found["kind"], found["at"]) == ("missing_in", instant("2026-03-06 08:00"))


def test_nothing_is_proposed_without_three_past_shifts() -> None:
    assert proposals(*WEEK[:4], "2026-03-06 08:00 in") == []


def test_who_leaves_when_the_schedule_says_is_proposed_the_schedule() -> None:
    # Shifts of changing length that end two minutes past the schedule: neither clock nor length, but the schedule.
    ends = ("13:00", "15:00", "17:00", "14:00", "16:00")
    planned = SCHEDULES.rows(
        {"person": "Ada", "starts_at": instant(f"2026-03-0{d} 08:00"), "ends_at": instant(f"2026-03-0{d} {end}")}
        for d, end in zip((2, 3, 4, 5, 6), ends, strict=True)
    )
    presses = [
        press
        for d, end in zip((2, 3, 4, 5), ends, strict=False)
        for press in (f"2026-03-0{d} 08:00 in", f"2026-03-0{d} {end[:3]}02 out")
    ]
    (found,) = proposals(*presses, "2026-03-06 08:00 in", planned=planned)
    assert found["at"] == instant("2026-03-06 16:02")
    assert "the scheduled end" in found["says"]


def test_a_person_without_a_habit_is_proposed_a_time_with_little_certainty() -> None:
    presses = [
        press
        for d, end in zip((2, 3, 4, 5), ("10:00", "20:00", "13:00", "17:30"), strict=True)
        for press in (f"2026-03-0{d} 08:00 in", f"2026-03-0{d} {end} out")
    ]
    (found,) = proposals(*presses, "2026-03-06 08:00 in")
    assert found["likely"] <= 0.5
    assert found["high"] - found["low"] > 4 * 3600


def test_proposals_leave_hours_as_they_are() -> None:
    hours = hours_of(sheet(*WEEK, "2026-03-06 08:00 in"))
    assert hours.weeks["ordinary_s"].to_list() == [4 * 8 * 3600 + 4 * 1800]
    assert hours.questions["kind"].to_list() == ["missing_out"]
