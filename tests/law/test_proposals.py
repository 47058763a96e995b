"""What a day with an open punch lacks or has too much is proposed from the person's usual days, and never applied.

The rule is common practice, no source; how often its times and chances are right is measured by `bench.missing`.
"""

from __future__ import annotations

from typing import Any

import pytest

from evenhand.law import link_strays, propose_punches
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy
from evenhand.terms.sources import SCHEDULES
from evenhand.terms.tables import RECORDED
from tests.law.weeks import CHICAGO, hours_of, instant, sheet

WEEKDAYS = ("02", "03", "04", "05", "06", "09", "10", "11")


def proposed(punches: Frame, planned: Frame | None = None, zone: str = CHICAGO) -> Frame:
    hours = hours_of(punches, zone, schedules=planned)
    schedules = SCHEDULES.empty() if planned is None else planned
    return propose_punches(hours.questions, punches, hours.classed, schedules, Policy(), zone)


def proposals(*presses: str, planned: Frame | None = None) -> list[dict[str, Any]]:
    return proposed(sheet(*presses), planned).rows(named=True)


def days(*clocks: str, on: tuple[str, ...] = WEEKDAYS, marked: bool = False) -> list[str]:
    """Return punches at these times on each of some days of March 2026, a few minutes apart from day to day."""
    presses = []
    for number, day in enumerate(on):
        for place, clock in enumerate(clocks):
            hour, minute = map(int, clock.split(":"))
            later = 60 * hour + minute + (number * (place + 2)) % 5 - 2
            mark = (" in", " out")[place % 2] if marked else ""
            presses.append(f"2026-03-{day} {later // 60:02}:{later % 60:02}{mark}")
    return presses


def day(*clocks: str) -> list[str]:
    return [f"2026-03-12 {clock}" for clock in clocks]


MEALS = ("07:00", "12:00", "12:30", "15:30")


@pytest.mark.parametrize("marked", [False, True])
@pytest.mark.parametrize(("missing", "kind"), [(0, "start"), (1, "meal_out"), (2, "meal_in"), (3, "end")], ids=str)
def test_which_punch_is_missing_and_when_is_told_by_the_others(missing: int, kind: str, marked: bool) -> None:
    left = [
        clock + ((" in", " out")[place % 2] if marked else "") for place, clock in enumerate(MEALS) if place != missing
    ]
    (found,) = proposals(*days(*MEALS, marked=marked), *day(*left))
    assert (found["kind"], found["way"], found["seen"]) == (kind, ("in", "out")[missing % 2], 8)
    assert abs(found["at"] - instant(f"2026-03-12 {MEALS[missing]}")) <= 4 * 60
    assert found["earliest_at"] < found["at"] < found["latest_at"] <= found["earliest_at"] + 30 * 60
    assert 0.75 < found["likely"] < 0.86


def test_a_break_is_not_the_meal() -> None:
    usual = ("06:00", "08:00", "08:12", "10:00", "10:25", "14:00")
    (found,) = proposals(*days(*usual), *day("06:00", "08:00", "10:00", "10:25", "14:00"))
    assert (found["kind"], found["way"]) == ("break_in", "in")
    assert abs(found["at"] - instant("2026-03-12 08:12")) <= 5 * 60


def test_which_side_of_a_short_break_is_missing_is_told_only_where_the_punches_tell_it() -> None:
    # The punch at 08:04 lies between going at 08:00 and coming back at 08:12.
    usual = ("06:00", "08:00", "08:12", "10:00", "10:25", "14:00")
    left = ("06:00", "08:04", "10:00", "10:25", "14:00")
    (found,) = proposals(*days(*usual), *day(*left))
    assert (found["kind"], found["at"]) == ("not_sure", None)
    assert found["says"] == (
        "a punch of a short break seems to be missing, and unmarked punches do not tell whether out or in"
    )
    marked = [clock + mark for clock, mark in zip(left, (" in", " out", " out", " in", " out"), strict=True)]
    (found,) = proposals(*days(*usual, marked=True), *day(*marked))
    assert (found["kind"], found["way"]) == ("break_in", "in")
    assert found["at"] is not None


def test_a_long_pause_parts_two_stretches_of_work() -> None:
    usual = ("11:00", "15:00", "18:00", "22:00")
    (found,) = proposals(*days(*usual), *day("11:00", "18:00", "22:00"))
    assert (found["kind"], found["way"]) == ("end", "out")


def test_a_punch_too_many_is_told_and_no_time() -> None:
    (found,) = proposals(*days(*MEALS), *day("07:00", "09:41", "12:00", "12:30", "15:30"))
    assert (found["kind"], found["suspect"], found["at"]) == ("too_many", 34, None)
    assert found["suspect_at"] == instant("2026-03-12 09:41")
    assert found["likely"] > 0.9


def test_a_punch_marked_the_wrong_way_is_told_and_no_time() -> None:
    found = proposals(*days("07:00", "15:30", marked=True), *day("07:00 in", "15:30 in"))
    assert {one["kind"] for one in found} == {"wrong_way"}
    assert {(one["way"], one["suspect"], one["at"]) for one in found} == {("out", 18, None)}


def test_nothing_is_said_without_three_usual_days() -> None:
    (found,) = proposals(*days(*MEALS, on=WEEKDAYS[:2]), *day("07:00", "12:00", "12:30"))
    assert (found["kind"], found["at"], found["likely"]) == ("not_sure", None, None)
    assert "fewer than three" in found["says"]
    (found,) = proposals(*days(*MEALS, on=WEEKDAYS[:3]), *day("07:00", "12:00", "12:30"))
    assert found["kind"] == "end"


def test_a_punch_midway_between_two_that_could_be_missing_decides_for_neither() -> None:
    (found,) = proposals(*days(*MEALS), *day("07:00", "12:15", "15:30"))
    assert (found["kind"], found["at"]) == ("not_sure", None)
    assert "more than one account" in found["says"]


def test_a_day_like_no_other_tells_nothing() -> None:
    (found,) = proposals(*days("07:00", "15:30"), *day("09:55", "11:40", "19:20"))
    assert found["kind"] == "not_sure"
    assert "like no usual day" in found["says"]


def test_a_time_that_strays_is_not_proposed() -> None:
    ends = ("10:00", "20:00", "13:00", "17:30", "11:20", "18:10")
    presses = [
        press
        for number, end in zip(WEEKDAYS, ends, strict=False)
        for press in (f"2026-03-{number} 08:00 in", f"2026-03-{number} {end} out")
    ]
    (found,) = proposals(*presses, "2026-03-12 08:00 in")
    assert (found["kind"], found["at"]) == ("end", None)
    assert found["latest_at"] - found["earliest_at"] > 4 * 3600
    assert "strays" in found["says"]


def test_one_wild_day_among_usual_ones_moves_nothing() -> None:
    usual = days("07:00", "15:30", on=("02", "03", "04", "05", "06", "07", "08", *WEEKDAYS[5:]))
    more = days("07:00", "15:30", on=("22", "23", "24", "25", "26", "27"))
    (found,) = proposals(*usual, "2026-03-12 07:00", "2026-03-12 19:50", *more, "2026-03-28 07:00")
    assert abs(found["at"] - instant("2026-03-28 15:30")) <= 3 * 60
    assert found["latest_at"] <= instant("2026-03-28 15:40")


def test_a_proposed_time_lies_between_the_punches_beside_it() -> None:
    # Back from the meal between 12:25 and 12:46, gone at 12:52; who was gone at 12:42 was back before that.
    backs = (25, 41, 33, 44, 27, 46, 36, 30)
    clocks = [("07:00 in", "12:02 out", f"12:{back} in", "12:52 out") for back in backs]
    usual = [f"2026-03-{d} {clock}" for d, them in zip(WEEKDAYS, clocks, strict=True) for clock in them]
    (found,) = proposals(*usual, *day("07:00 in", "12:02 out", "12:42 out"))
    assert (found["kind"], found["way"]) == ("meal_in", "in")
    before, after = instant("2026-03-12 12:02"), instant("2026-03-12 12:42")
    assert before <= found["earliest_at"] <= found["at"] <= found["latest_at"] == after


def test_who_leaves_when_the_schedule_says_is_proposed_the_schedule() -> None:
    ends = ("13:00", "15:00", "17:00", "14:00", "16:00", "13:00", "17:00")
    planned = SCHEDULES.rows(
        {"person": "Ada", "starts_at": instant(f"2026-03-{d} 08:00"), "ends_at": instant(f"2026-03-{d} {end}")}
        for d, end in zip((*WEEKDAYS[:6], "12"), ends, strict=True)
    )
    presses = [
        press
        for d, end in zip(WEEKDAYS[:6], ends, strict=False)
        for press in (f"2026-03-{d} 08:00 in", f"2026-03-{d} {end[:3]}02 out")
    ]
    (found,) = proposals(*presses, "2026-03-12 08:00 in", planned=planned)
    assert found["at"] == instant("2026-03-12 17:02")
    assert "the schedule" in found["says"]
    # With no schedule that day there is nothing to go by.
    (found,) = proposals(*presses, "2026-03-12 08:00 in", planned=planned.head(6))
    assert found["at"] is None


def test_who_works_so_long_is_proposed_a_length_and_who_leaves_by_the_clock_the_clock() -> None:
    starts = ("07:00", "09:10", "08:05", "07:40", "09:30", "08:40", "07:20", "08:20")
    for end, expected in (((8, 0), "16:50"), (None, "16:30")):
        presses = []
        for number, start in zip(WEEKDAYS, starts, strict=True):
            hour, minute = map(int, start.split(":"))
            out = f"{hour + end[0]:02}:{minute + end[1]:02}" if end else "16:30"
            presses += [f"2026-03-{number} {start} in", f"2026-03-{number} {out} out"]
        (found,) = proposals(*presses, "2026-03-12 08:50 in")
        assert found["at"] == instant(f"2026-03-12 {expected}")
        assert ("the clock" in found["says"]) == (end is None)


def test_nights_are_compared_across_midnight_and_over_a_change_of_clocks() -> None:
    # Chicago sets clocks forward on 8 March 2026 at 02:00: eight hours from 22:01 end at 07:01 there.
    nights = [
        press
        for d in range(1, 7)
        for press in (f"2026-03-{d:02} 22:0{d % 3} in", f"2026-03-{d + 1:02} 06:0{d % 3} out")
    ]
    (found,) = proposals(*nights, "2026-03-07 22:01 in")
    assert (found["kind"], found["at"]) == ("end", instant("2026-03-08 07:01"))
    (found,) = proposals(*nights, "2026-03-09 06:01 out")
    assert (found["kind"], found["at"]) == ("start", instant("2026-03-08 22:01"))


def test_a_day_has_no_more_punches_than_are_looked_at() -> None:
    many = [f"{hour:02}:{minute}" for hour in range(6, 13) for minute in ("00", "30")][:13]
    (found,) = proposals(*days(*MEALS), *day(*many))
    assert found["kind"] == "not_sure"


def test_each_person_is_compared_with_their_own_days() -> None:
    ada, bo = (
        sheet(*days(come, go), f"2026-03-12 {come}", person=who)
        for who, come, go in (("Ada", "08:00", "16:30"), ("Bo", "09:00", "13:00"))
    )
    found = proposed(ada.vstack(bo.with_columns(bo["punch"] + 20)))
    assert found.select("person", "punch").rows() == [("Ada", 17), ("Bo", 37)]
    for at, expected in zip(found["at"], ("16:30", "13:00"), strict=True):
        assert abs(at - instant(f"2026-03-12 {expected}")) <= 3 * 60


def stray(clock: str, way: str | None = None, reader: str = "R1") -> Frame:
    at = instant(f"2026-03-12 {clock}")
    return RECORDED.rows([{"punch": 99, "reader": reader, "number": "4281", "at": at, "direction": way}])


@pytest.mark.parametrize(
    ("nobodys", "linked"),
    [
        (stray("15:32"), True),
        (stray("15:32", "out"), True),
        (stray("15:32", "in"), False),
        (stray("14:20"), False),
        (stray("15:32", reader="R2"), False),
    ],
    ids=["unmarked", "marked", "the other way", "another time", "another reader"],
)
def test_a_stray_that_may_be_the_missing_punch_is_linked_and_no_time_proposed(nobodys: Frame, linked: bool) -> None:
    punches = sheet(*days(*MEALS), *day("07:00", "12:00", "12:30"))
    (found,) = link_strays(proposed(punches), punches, nobodys).rows(named=True)
    assert found["kind"] == "end"
    assert (found["stray"], found["at"] is None) == (("R1/4281", True) if linked else (None, False))
    assert found["stray_at"] == (instant("2026-03-12 15:32") if linked else None)


def test_proposals_leave_hours_as_they_are() -> None:
    punches = sheet(*days("08:00", "16:30"), *day("08:00"))
    hours = hours_of(punches)
    before = hours.weeks
    propose_punches(hours.questions, punches, hours.classed, SCHEDULES.empty(), Policy(), CHICAGO)
    assert hours.weeks.equals(before)
    assert hours.questions["kind"].to_list() == ["missing_out"]
