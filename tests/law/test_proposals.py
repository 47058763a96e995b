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


def days_of(starts: tuple[str, ...], ends: tuple[str, ...]) -> list[str]:
    """Return marked punches of days from Monday, 2 March 2026, on."""
    both = zip(starts, ends, strict=True)
    return [f"2026-03-{d:02} {press}" for d, (come, go) in enumerate(both, 2) for press in (f"{come} in", f"{go} out")]


def told(found: dict[str, Any]) -> tuple[Any, ...]:
    return found["low"], found["at"], found["high"], found["seen"], found["says"]


def test_what_is_proposed_is_the_middle_of_past_shifts_with_four_fifths_of_them_around_it() -> None:
    # Shifts of 480, 490, 500 and 530 minutes: median 495; tenth and ninetieth hundredth, linear between neighbours
    # (Hyndman and Fan 1996, definition 7): 480 + 0.3 x 10 = 483 and 500 + 0.7 x 30 = 521. Three lie within 15 minutes
    # of the middle, the first of them exactly.
    presses = days_of(("08:00",) * 4, ("16:00", "16:10", "16:20", "16:50"))
    (found,) = proposals(*presses, "2026-03-06 08:00 in")
    low, at, high = (instant(f"2026-03-06 16:{minute}") for minute in ("03", "15", "41"))
    says = "from how long the person's last 4 shifts were: 3 of 4 within 15 minutes"
    assert told(found) == (low, at, high, 4, says)
    assert found["likely"] == pytest.approx(4 / 6)  # Laplace's rule of succession
    # A missing start lies so much before the end.
    presses = days_of(("08:30", "08:20", "08:10", "07:40"), ("16:30",) * 4)
    (found,) = proposals(*presses, "2026-03-06 16:30 out")
    low, at, high = (instant(f"2026-03-06 {time}") for time in ("07:49", "08:15", "08:27"))
    assert told(found) == (low, at, high, 4, says)


def test_who_leaves_by_the_clock_whenever_they_came_is_proposed_the_clock() -> None:
    # Also over a change of clocks: Chicago sets them forward on Sunday, 8 March.
    presses = days_of(("07:30", "08:00", "08:30", "08:10", "07:45"), ("16:30",) * 5)
    (found,) = proposals(*presses, "2026-03-09 08:05 in")
    at = instant("2026-03-09 16:30")
    says = "from when the clock showed 5 of the person's past ends: 5 of 5 within 15 minutes"
    assert told(found) == (at, at, at, 5, says)


def test_who_comes_by_the_clock_whenever_they_leave_is_proposed_the_clock() -> None:
    presses = days_of(("08:00",) * 5, ("15:30", "16:00", "16:30", "17:00", "16:10"))
    (found,) = proposals(*presses, "2026-03-09 16:05 out")
    at = instant("2026-03-09 08:00")
    says = "from when the clock showed 5 of the person's past starts: 5 of 5 within 15 minutes"
    assert told(found) == (at, at, at, 5, says)


def test_only_shifts_of_a_like_time_of_day_say_what_the_clock_shows() -> None:
    # Three days from 08:00 to 16:30, three nights from about 22:00 to 06:00; the question is a night's.
    days = days_of(("08:00",) * 3, ("16:30",) * 3)
    presses = ("09 22:00 in", "10 06:00 out", "10 21:50 in", "11 06:00 out", "11 22:15 in", "12 06:00 out")
    nights = [f"2026-03-{press}" for press in presses]
    (found,) = proposals(*days, *nights, "2026-03-12 22:05 in")
    assert (found["at"], found["seen"]) == (instant("2026-03-13 06:00"), 3)


def test_the_clock_is_read_across_midnight() -> None:
    # Who usually begins just after midnight and once just before it is away until the same 08:00.
    presses = days_of(("00:05", "00:10", "00:02"), ("08:00",) * 3)
    (found,) = proposals(*presses, "2026-03-05 23:55 in")
    assert (found["at"], found["seen"]) == (instant("2026-03-06 08:00"), 3)
    assert "the clock" in found["says"]
    presses = ["02 16:00 in", "03 00:05 out", "03 16:00 in", "04 00:10 out", "04 16:00 in", "05 00:02 out"]
    nights = [f"2026-03-{press}" for press in (*presses, "05 23:55 out")]
    (found,) = proposals(*nights)
    assert (found["at"], found["seen"]) == (instant("2026-03-05 16:00"), 3)


def test_who_comes_when_the_schedule_says_is_proposed_the_schedule() -> None:
    # Three minutes before shifts that begin at changing hours, and an end that strays: the schedule of the last day.
    starts, ends = ("06:00", "09:00", "07:00", "10:00", "08:30"), ("14:00", "15:30", "17:00", "16:00")
    planned = SCHEDULES.rows(
        {"person": "Ada", "starts_at": instant(f"2026-03-0{d} {at}"), "ends_at": instant(f"2026-03-0{d} 16:00")}
        for d, at in enumerate(starts, 2)
    )
    presses = days_of(("05:57", "08:57", "06:57", "09:57"), ends)
    (found,) = proposals(*presses, "2026-03-06 16:10 out", planned=planned)
    at = instant("2026-03-06 08:27")
    says = "from the scheduled start and how 4 past ones compare with theirs: 4 of 4 within 15 minutes"
    assert told(found) == (at, at, at, 4, says)
    # A day without a schedule near the punch that is there has none to go by.
    (found,) = proposals(*presses, "2026-03-07 16:10 out", planned=planned)
    assert "scheduled" not in found["says"]


def test_a_missing_end_is_never_proposed_before_the_start_nor_a_start_after_the_end() -> None:
    # Who leaves when the schedule says, at changing hours, came on Friday after the shift was over.
    ends = ("11:00", "10:30", "11:15", "11:00")
    planned = SCHEDULES.rows(
        {"person": "Ada", "starts_at": instant(f"2026-03-0{d} 08:00"), "ends_at": instant(f"2026-03-0{d} {end}")}
        for d, end in enumerate(ends, 2)
    )
    (found,) = proposals(*days_of(("08:00",) * 3, ends[:3]), "2026-03-05 11:30 in", planned=planned)
    assert "scheduled" in found["says"]
    assert [found[name] for name in ("low", "at", "high")] == [instant("2026-03-05 11:30")] * 3
    starts = ("13:00", "13:30", "12:45", "13:00")
    planned = SCHEDULES.rows(
        {"person": "Ada", "starts_at": instant(f"2026-03-0{d} {at}"), "ends_at": instant(f"2026-03-0{d} 16:00")}
        for d, at in enumerate(starts, 2)
    )
    (found,) = proposals(*days_of(starts[:3], ("16:00",) * 3), "2026-03-05 12:30 out", planned=planned)
    assert "scheduled" in found["says"]
    assert [found[name] for name in ("low", "at", "high")] == [instant("2026-03-05 12:30")] * 3


def test_a_shift_that_a_question_touches_is_no_habit() -> None:
    # The third of three shifts is longer than 13 hours, which is asked about: two are left, too few.
    presses = days_of(("06:00",) * 3, ("14:00", "14:00", "19:30"))
    found = proposals(*presses, "2026-03-09 06:00 in")
    assert found == []
    assert len(proposals(*days_of(("06:00",) * 3, ("14:00",) * 3), "2026-03-09 06:00 in")) == 1


def test_each_person_is_asked_by_their_own_habit() -> None:
    ada, bo = (
        sheet(*days_of((come,) * 3, (go,) * 3), f"2026-03-06 {come} in", person=who)
        for who, come, go in (("Ada", "08:00", "16:30"), ("Bo", "09:00", "13:00"))
    )
    hours = hours_of(ada.vstack(bo.with_columns(bo["punch"] + 10)))
    found = propose_punches(hours.questions, hours.classed, SCHEDULES.empty(), CHICAGO)
    ends = [instant(f"2026-03-06 {go}") for go in ("16:30", "13:00")]
    assert found.select("person", "punch", "at").rows() == [("Ada", 7, ends[0]), ("Bo", 17, ends[1])]


def test_proposals_leave_hours_as_they_are() -> None:
    hours = hours_of(sheet(*WEEK, "2026-03-06 08:00 in"))
    assert hours.weeks["ordinary_s"].to_list() == [4 * 8 * 3600 + 4 * 1800]
    assert hours.questions["kind"].to_list() == ["missing_out"]
