"""What a workplace may decide: automatic meals, grace, trifles, call-backs, differentials; each as it says."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import polars as pl
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


def test_a_late_start_counts_as_the_scheduled_one_only_from_the_end_before_it() -> None:
    # Out at 12:20, back at 12:55 for a shift from 12:10, within 45 minutes: from 12:20 on, or ten minutes would be paid
    # twice. 08:00 to 17:00 are nine hours.
    shifts, grace = planned((DAY + "08:00", DAY + "12:00"), (DAY + "12:10", DAY + "17:00")), Grace(start_late_s=2700)
    presses = (DAY + "08:00", DAY + "12:20", DAY + "12:55", DAY + "17:00")
    hours = hours_of(sheet(*presses), policy=Policy(grace=grace), schedules=shifts)
    assert paid_minutes(hours) == 540
    assert hours.steps["seconds"].to_list() == [35 * 60]


def test_an_end_that_counts_as_scheduled_stops_where_the_next_start_is_rounded_back_to() -> None:
    # Back at 13:52, which counts as 13:45 to the quarter hour: no minute before it is paid to 13:52 as well.
    shift, grace = planned((DAY + "08:00", DAY + "16:00")), Policy(grace=Grace(end_early_s=10_800))
    punches = sheet(DAY + "08:00 in", DAY + "13:00 out", DAY + "13:52 in", DAY + "16:00 out")
    assert paid_minutes(hours_of(punches, policy=grace, schedules=shift, rounding_s=900)) == 8 * 60


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


def test_a_call_back_is_no_trifle_and_pays_all_that_is_promised() -> None:
    # Ten minutes worked and 2:50 beyond them are the three hours promised (29 CFR 778.221; 785.47: a trifle is
    # uncertain time, never what is fixed). The same ten minutes within reach of no schedule stay a trifle.
    presses = [DAY + "06:00 in", DAY + "14:00 out", DAY + "20:00 in", DAY + "20:10 out"]
    policy = Policy(trifle_s=900, call_back_s=3 * 3600)
    hours = hours_of(sheet(*presses), policy=policy, schedules=planned((DAY + "06:00", DAY + "14:00")))
    assert paid_minutes(hours) == 490
    assert [round(float(hours_owed) * 60) for hours_owed in hours.premiums["hours"]] == [170]
    assert "recorded.trifles" not in hours.steps["rule"].to_list()
    assert paid_minutes(hours_of(sheet(*presses), policy=policy)) == 480
    # No longer promised is what the call-back lasted, and it is paid all the same.
    short = Policy(trifle_s=900, call_back_s=300)
    hours = hours_of(sheet(*presses), policy=short, schedules=planned((DAY + "06:00", DAY + "14:00")))
    assert (paid_minutes(hours), hours.premiums.height) == (490, 0)


def called_back(*presses: str, worked: tuple[str, str] = ("06:00", "14:00"), least_s: int = 3 * 3600) -> Any:
    shift = planned((DAY + worked[0], DAY + worked[1]))
    presses = tuple(press if press.startswith("2026") else DAY + press for press in presses)
    return hours_of(sheet(*presses), policy=Policy(call_back_s=least_s), schedules=shift).premiums


def test_a_call_back_says_when_and_what_it_is_paid_by() -> None:
    owed = called_back("06:00 in", "14:00 out", "20:00 in", "20:20 out", "20:50 in", "21:30 out")
    (row,) = owed.iter_rows(named=True)
    # Twenty minutes and forty, half an hour away between them: an hour of three.
    assert (row["person"], row["kind"], row["workday"].isoformat(), row["punch"]) == ("Ada", "call_back", DAY[:10], 3)
    assert row["hours"] == 2
    assert row["says"] == (
        "called back from 2026-03-02 20:00 to 2026-03-02 21:30, outside the schedule: 3 h are paid at least"
    )
    assert row["cites"] == "the workplace's policy; 29 CFR 778.221"


@pytest.mark.parametrize(
    ("presses", "owed"),
    [
        (("20:00 in", "23:00 out"), []),  # three hours are the least
        (("20:00 in", "22:59:59 out"), [Decimal("0.0003")]),  # a second short of it is owed
        (("20:00 in", "20:00 out"), []),  # no work
        (("20:00 in",), []),  # nobody knows how long
        (("20:00 in", "20:30 out", "21:00 in"), []),  # nor here
        (("2026-03-03 13:59:59 in", "2026-03-03 14:59:59 out"), [Decimal(2)]),  # within a day of the scheduled end
        (("2026-03-03 14:00 in", "2026-03-03 15:00 out"), []),
        (("13:00 in", "14:10 out"), []),  # in the schedule's last hour
        (("14:00 in", "15:00 out"), [Decimal(2)]),  # from its end on
        (("05:00 in", "06:00 out"), []),  # before any scheduled shift there was none to be called back from
    ],
)
def test_what_is_a_call_back(presses: tuple[str, ...], owed: list[Decimal]) -> None:
    assert called_back(*presses)["hours"].to_list() == owed


def test_each_person_is_called_back_from_their_own_schedule() -> None:
    shifts = SCHEDULES.rows(
        {"person": who, "starts_at": instant(DAY + since), "ends_at": instant(DAY + until)}
        for who, since, until in (("Ada", "06:00", "14:00"), ("Bo", "19:00", "23:00"), ("Cy", "06:00", "12:00"))
    )
    presses = (DAY + "20:00 in", DAY + "21:00 out")
    people = pl.concat(
        sheet(*presses, person=who).with_columns(pl.col("punch") + 10 * k) for k, who in enumerate(("Ada", "Bo", "Cy"))
    )
    owed = hours_of(people, policy=Policy(call_back_s=7200), schedules=shifts).premiums
    assert owed.select("person", "hours", "punch").rows() == [("Ada", Decimal(1), 1), ("Cy", Decimal(1), 21)]


def test_automatic_meals_are_each_shifts_own_and_end_with_it() -> None:
    # Ada's two shifts of nine hours have one each; Bo's of 6 h 10 has what is left of it from the sixth hour on.
    late = Policy(automatic_meal=AutomaticMeal(length_s=1800, after_s=6 * 3600, at_s=6 * 3600))
    ada = sheet(*(f"2026-03-0{d} {at}" for d in (2, 3) for at in ("08:00 in", "17:00 out")))
    bo = sheet(DAY + "08:00 in", DAY + "14:10 out", person="Bo").with_columns(pl.col("punch") + 10)
    cy = sheet(DAY + "08:00 in", DAY + "12:00 out", DAY + "13:00 in", person="Cy").with_columns(pl.col("punch") + 20)
    hours = hours_of(pl.concat([ada, bo, cy]), policy=late)
    steps = hours.steps.filter(rule="recorded.automatic_meal").select("person", "seconds", "starts", "ends").rows()
    assert steps == [
        ("Ada", -1800, instant("2026-03-02 14:00"), instant("2026-03-02 14:30")),
        ("Ada", -1800, instant("2026-03-03 14:00"), instant("2026-03-03 14:30")),
        ("Bo", -600, instant("2026-03-02 14:00"), instant("2026-03-02 14:10")),
    ]
    paid = hours.classed.filter(person="Ada").select("starts", "ends").rows()
    bounds = [[instant(f"2026-03-0{d} {at}") for at in ("08:00", "14:00", "14:30", "17:00")] for d in (2, 3)]
    assert paid == [pair for a, b, c, d in bounds for pair in ((a, b), (c, d))]
    assert hours.weeks["ordinary_s"].to_list() == [17 * 3600, 6 * 3600, 4 * 3600]


def test_an_automatic_meal_that_the_punches_speak_against_is_not_deducted_and_says_so() -> None:
    hours = hours_of(sheet(DAY + "08:00", DAY + "12:10", DAY + "12:15", DAY + "16:30"), policy=HALF_HOUR)
    row = hours.steps.filter(rule="recorded.automatic_meal").row(0, named=True)
    assert (row["seconds"], row["starts"], row["ends"]) == (0, instant(DAY + "12:00"), instant(DAY + "12:30"))
    # A rest whose punches lie at the meal's very bounds says nothing against it.
    beside = hours_of(sheet(DAY + "08:00", DAY + "12:30", DAY + "12:40", DAY + "16:30"), policy=HALF_HOUR)
    assert paid_minutes(beside) == 480


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


def test_each_window_that_paid_time_meets_has_its_part_its_week_and_its_words() -> None:
    # Wednesday's night and Thursday's, as far as each shift lies in them; a window on Wednesdays is named by the day it
    # opens on, so it runs on into Thursday and not into Thursday's own night.
    wednesdays = Differential("wednesday night", days=(2,), starts_s=22 * 3600, ends_s=6 * 3600)
    ada = sheet("2026-03-04 20:00 in", "2026-03-05 04:00 out", "2026-03-05 22:30 in", "2026-03-06 07:00 out")
    bo = sheet("2026-03-05 05:00 in", "2026-03-05 12:00 out", person="Bo").with_columns(pl.col("punch") + 10)
    hours = hours_of(pl.concat([bo, ada]), policy=Policy(differentials=(NIGHT, wednesdays)))
    rows = hours.differentials.select("person", "kind", "starts", "ends", "says").rows()
    at = {
        text: instant(f"2026-03-0{text}") for text in ("4 22:00", "5 04:00", "5 22:30", "6 06:00", "5 05:00", "5 06:00")
    }
    night, wednesday = (("night", "carries the differential night"),
                        ("wednesday night", "carries the differential wednesday night"))  # fmt: skip
    expected = [
        ("Ada", night, "4 22:00", "5 04:00"), ("Ada", wednesday, "4 22:00", "5 04:00"),
        ("Ada", night, "5 22:30", "6 06:00"), ("Bo", night, "5 05:00", "5 06:00"),
        ("Bo", wednesday, "5 05:00", "5 06:00"),
    ]  # fmt: skip
    assert rows == [(who, kind, at[since], at[until], says) for who, (kind, says), since, until in expected]
    assert set(hours.differentials["cites"]) == {"the workplace's policy"}
    assert set(hours.differentials["workweek"].cast(pl.String)) == {"2026-03-01"}  # a Sunday


@pytest.mark.parametrize("calendar", ["", "XX", "US-XX"])
def test_a_holiday_window_needs_a_calendar_that_exists(calendar: str) -> None:
    policy = Policy(differentials=(Differential("holiday", on_holidays=True),))
    with pytest.raises(Refusal, match="calendar"):
        hours_of(sheet(DAY + "08:00", DAY + "16:00"), policy=policy, holidays=calendar)
