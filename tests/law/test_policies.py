"""What a workplace may decide: automatic meals, grace, trifles, call-backs, differentials; each as it says."""

from __future__ import annotations

from typing import Any

import pytest

from evenhand.terms.columns import Frame
from evenhand.terms.records import Refusal
from evenhand.terms.settings import AutomaticMeal, Differential, Grace, Policy
from evenhand.terms.sources import SCHEDULES
from tests.law.test_published_cases import CASES
from tests.law.weeks import hours_of, instant, paid_minutes, sheet

HALF_HOUR = Policy(automatic_meal=AutomaticMeal(length_s=1800, after_s=6 * 3600, at_s=4 * 3600))
DAY = "2026-03-02 "


def planned(*shifts: tuple[str, str]) -> Frame:
    return SCHEDULES.rows(
        {"person": "Ada", "starts_at": instant(starts), "ends_at": instant(ends)} for starts, ends in shifts
    )


def the_rule(hours: Any, rule: str) -> list[str]:
    return hours.steps.filter(rule=rule)["says"].to_list()


def test_an_automatic_meal_is_deducted_from_a_long_shift_and_says_so() -> None:
    # Fact Sheet 53, example 9: the deduction stands where the full meal was had. 8.5 hours less half an hour.
    hours = hours_of(sheet(DAY + "08:00", DAY + "16:30"), policy=HALF_HOUR)
    assert paid_minutes(hours) == 480
    assert the_rule(hours, "recorded.automatic_meal") == [
        "a meal period of 30 min from 2026-03-02 12:00 to 2026-03-02 12:30 was deducted by policy, without punches"
    ]
    assert hours.steps.filter(rule="recorded.automatic_meal")["seconds"].to_list() == [-1800]


def test_a_meal_that_was_not_had_is_paid() -> None:
    # Fact Sheet 53, example 9, with the shift's length constructed: a punch at 12:10 shows work in the meal's time.
    case = next(c for c in CASES if c["id"] == "us-fs53-ex9")
    hours = hours_of(sheet(DAY + "08:00", DAY + "12:10", DAY + "12:15", DAY + "16:30"), policy=HALF_HOUR)
    assert paid_minutes(hours) == case["expected"]["minutes_paid"]
    assert "the punches say otherwise" in the_rule(hours, "recorded.automatic_meal")[0]


def test_a_punched_meal_is_never_deducted_twice() -> None:
    hours = hours_of(sheet(DAY + "08:00", DAY + "13:00", DAY + "13:30", DAY + "16:30"), policy=HALF_HOUR)
    assert paid_minutes(hours) == 480


def test_a_short_shift_has_no_automatic_meal() -> None:
    assert paid_minutes(hours_of(sheet(DAY + "08:00", DAY + "14:00"), policy=HALF_HOUR)) == 360


def test_grace_counts_a_punch_near_the_schedule_as_the_schedule_in_each_direction() -> None:
    shift = planned((DAY + "08:00", DAY + "16:00"))
    grace = Policy(grace=Grace(start_early_s=600, start_late_s=300, end_early_s=120, end_late_s=600))
    for presses, minutes in (
        ((DAY + "07:51", DAY + "16:09"), 480),  # nine minutes early and late: the schedule
        ((DAY + "07:49", DAY + "16:11"), 502),  # eleven: as punched
        ((DAY + "08:05", DAY + "15:58"), 480),  # within five late and two early: in the person's favour
        ((DAY + "08:06", DAY + "15:57"), 471),  # beyond
    ):
        assert paid_minutes(hours_of(sheet(*presses), policy=grace, schedules=shift)) == minutes


def test_an_early_end_counts_as_the_scheduled_one_only_up_to_the_next_start() -> None:
    # Out at 15:10 within an hour of the scheduled 16:00, back from 15:50 to 17:30: no second is paid twice, so 8 h to
    # 16:00 are 7 h 50 to 15:50, and 1 h 40 follow. Without the return all eight hours count.
    shift, grace = planned((DAY + "08:00", DAY + "16:00")), Policy(grace=Grace(end_early_s=3600))
    alone = hours_of(sheet(DAY + "08:00", DAY + "15:10"), policy=grace, schedules=shift)
    back = hours_of(sheet(DAY + "08:00", DAY + "15:10", DAY + "15:50", DAY + "17:30"), policy=grace, schedules=shift)
    assert paid_minutes(alone) == 480
    assert paid_minutes(back) == 470 + 100
    assert (back.classed["ends"][:-1] <= back.classed["starts"][1:]).all()


def test_grace_and_rounding_never_add_up() -> None:
    # 08:09 is beyond five minutes' grace and rounds to 08:15; 08:04 is within it and is the schedule, not rounded.
    shift, grace = planned((DAY + "08:00", DAY + "16:00")), Policy(grace=Grace(start_late_s=300))
    late = hours_of(sheet(DAY + "08:09", DAY + "16:00"), policy=grace, schedules=shift, rounding_s=900)
    near = hours_of(sheet(DAY + "08:04", DAY + "16:00"), policy=grace, schedules=shift, rounding_s=360)
    assert (paid_minutes(late), paid_minutes(near)) == (465, 480)
    assert near.steps["seconds"].sum() == 240


def test_a_trifle_is_left_unpaid_only_by_policy() -> None:
    presses = (DAY + "08:00", DAY + "08:02")
    assert paid_minutes(hours_of(sheet(*presses))) == 2
    hours = hours_of(sheet(*presses), policy=Policy(trifle_s=180))
    assert paid_minutes(hours) == 0
    assert hours.steps["seconds"].to_list() == [-120]
    assert hours.weeks["recorded_s"].to_list() == [120]


def test_a_call_back_outside_the_schedule_is_paid_for_a_least_time() -> None:
    shift = planned((DAY + "06:00", DAY + "14:00"))
    policy = Policy(call_back_s=3 * 3600)
    presses = [DAY + "06:00 in", DAY + "14:00 out", DAY + "20:00 in", DAY + "21:00 out"]
    hours = hours_of(sheet(*presses), policy=policy, schedules=shift)
    assert [(row["kind"], float(row["hours"])) for row in hours.premiums.iter_rows(named=True)] == [("call_back", 2.0)]
    assert paid_minutes(hours) == 540


NIGHT = Differential("night", days=tuple(range(7)), starts_s=22 * 3600, ends_s=6 * 3600)


def minutes_of(hours: Any, kind: str) -> float:
    mine = hours.differentials.filter(kind=kind)
    return float((mine["ends"] - mine["starts"]).sum()) / 60


@pytest.mark.parametrize(("night", "minutes"), [("2026-03-09", 480), ("2026-03-07", 420), ("2026-10-31", 540)])
def test_a_night_window_is_cut_at_its_edges_also_when_clocks_change(night: str, minutes: int) -> None:
    # Chicago sets clocks forward on 8 March and back on 1 November 2026: 22:00 to 06:00 is seven, or nine, hours.
    ends = instant(f"{night} 22:00") + minutes * 60 + 3600
    starts = instant(f"{night} 20:00")
    rows = sheet(f"{night} 20:00 in", f"{night} 21:00 out")
    rows = rows.with_columns(at=rows["at"].replace_strict({int(rows["at"][0]): starts, int(rows["at"][1]): ends}))
    hours = hours_of(rows, policy=Policy(differentials=(NIGHT,)))
    assert minutes_of(hours, "night") == minutes
    assert paid_minutes(hours) == minutes + 180


def test_weekend_and_public_holiday_windows() -> None:
    # 3 July 2026 is a Friday and, 4 July being a Saturday, the observed holiday (5 USC 6103(b)).
    windows = (
        Differential("weekend", days=(5, 6)),
        Differential("holiday", on_holidays=True),
    )
    presses = ["2026-07-03 20:00 in", "2026-07-04 04:00 out"]
    hours = hours_of(sheet(*presses), policy=Policy(differentials=windows), holidays="US")
    assert minutes_of(hours, "weekend") == 240
    assert minutes_of(hours, "holiday") == 480
    assert "Independence Day" in hours.differentials["says"][0]


@pytest.mark.parametrize("calendar", ["", "XX", "US-XX"])
def test_a_holiday_window_needs_a_calendar_that_exists(calendar: str) -> None:
    policy = Policy(differentials=(Differential("holiday", on_holidays=True),))
    with pytest.raises(Refusal, match="calendar"):
        hours_of(sheet(DAY + "08:00", DAY + "16:00"), policy=policy, holidays=calendar)
