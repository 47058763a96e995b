"""Unmarked punches with one missing: what is read, what is paid, what is asked.

Common practice, no source; every expected value is hand arithmetic on the sheet shown.
"""

from __future__ import annotations

import pytest

from evenhand.terms.sources import SCHEDULES
from tests.law.weeks import hours_of, instant, paid, paid_minutes, questions, sheet

LUNCH = ("08:00", "12:00", "12:30", "16:30")
FOUR_DAYS = [f"2026-03-0{day} {time}" for day in (2, 3, 4, 5) for time in LUNCH]  # punches 1 to 16


@pytest.mark.parametrize(
    ("friday", "asked", "pays"),
    [
        (("12:00", "12:30", "16:30"), ("missing_in", 17), (18, 19)),
        (("08:00", "12:30", "16:30"), ("missing_out", 17), (18, 19)),
        (("08:00", "12:00", "16:30"), ("missing_in", 19), (17, 18)),
        (("08:00", "12:00", "12:30"), ("missing_out", 19), (17, 18)),
    ],
)
def test_one_missing_punch_of_four_stands_alone_and_the_other_half_day_is_paid(
    friday: tuple[str, ...], asked: tuple[str, int], pays: tuple[int, int]
) -> None:
    hours = hours_of(sheet(*FOUR_DAYS, *(f"2026-03-06 {time}" for time in friday)))
    assert questions(hours) == [asked]
    assert paid(hours)[-1] == pays
    assert paid(hours)[:-1] == [(n, n + 1) for n in range(1, 16, 2)]


def test_a_missing_punch_does_not_shift_the_days_after_it() -> None:
    monday, rest = ("2026-03-02 08:00",), [f"2026-03-0{day} {t}" for day in (3, 4, 5) for t in ("08:00", "16:30")]
    hours = hours_of(sheet(*monday, *rest))
    assert questions(hours) == [("missing_out", 1)]
    assert paid(hours) == [(2, 3), (4, 5), (6, 7)]


def test_a_lone_punch_is_named_by_the_hour_at_which_this_person_starts_or_ends() -> None:
    days = [f"2026-03-0{day} {time}" for day in (2, 3, 4) for time in ("08:00", "16:30")]
    assert questions(hours_of(sheet(*days, "2026-03-05 16:32"))) == [("missing_in", 7)]
    assert questions(hours_of(sheet(*days, "2026-03-05 07:58"))) == [("missing_out", 7)]


def nights(*days: int) -> list[str]:
    return [f"2026-03-{n:02d} {time}" for day in days for n, time in ((day, "18:57"), (day + 1, "07:03"))]


def test_twelve_hour_nights_in_a_row_pair_by_night_not_by_day() -> None:
    hours = hours_of(sheet(*nights(2, 3, 4, 5)))
    assert questions(hours) == []
    assert paid(hours) == [(1, 2), (3, 4), (5, 6), (7, 8)]
    assert paid_minutes(hours) == 4 * (12 * 60 + 6)


def test_a_missing_start_among_twelve_hour_nights_leaves_the_other_nights_paid() -> None:
    # Four nights, a night off, then four nights of which the first lacks its start: 07:03 stands alone.
    second = nights(8, 9, 10, 11)[1:]
    hours = hours_of(sheet(*nights(2, 3, 4, 5), *second))
    assert questions(hours) == [("missing_in", 9)]
    assert paid(hours)[4:] == [(10, 11), (12, 13), (14, 15)]


def test_a_missing_end_among_twelve_hour_nights_leaves_the_other_nights_paid() -> None:
    second = nights(8, 9, 10, 11)
    del second[3]  # the end of the second night: a gap of 24 hours parts what is before from what is after
    hours = hours_of(sheet(*nights(2, 3, 4, 5), *second))
    assert questions(hours) == [("missing_out", 11)]
    assert paid(hours)[4:] == [(9, 10), (12, 13), (14, 15)]


def test_a_change_from_days_to_nights_is_not_mistaken_for_missing_punches() -> None:
    days = [f"2026-03-0{day} {time}" for day in (2, 3, 4) for time in ("07:00", "19:00")]
    hours = hours_of(sheet(*days, *nights(6, 7, 8)))
    assert questions(hours) == []
    assert len(paid(hours)) == 6


def test_without_earlier_days_short_breaks_and_long_rests_decide() -> None:
    # Eleven-hour days with thirteen hours' rest: the rest is the longer, so 07:00 to 18:00 is the work.
    hours = hours_of(sheet("2026-03-02 07:00", "2026-03-02 18:00", "2026-03-03 07:00"))
    assert questions(hours) == [("missing_out", 3)]
    assert paid(hours) == [(1, 2)]
    hours = hours_of(sheet("2026-03-02 12:00", "2026-03-02 12:30", "2026-03-02 16:30"))
    assert questions(hours) == [("missing_in", 1)]
    assert paid(hours) == [(2, 3)]


def test_marks_are_believed_and_unmarked_punches_fit_in_between() -> None:
    hours = hours_of(sheet("2026-03-02 08:00 in", "2026-03-02 12:00", "2026-03-02 12:45 in", "2026-03-02 17:00"))
    assert questions(hours) == []
    assert paid(hours) == [(1, 2), (3, 4)]
    hours = hours_of(sheet("2026-03-02 08:00 in", "2026-03-02 13:00 in", "2026-03-02 17:00 out"))
    assert questions(hours) == [("missing_out", 1)]
    assert paid(hours) == [(2, 3)]


def test_a_start_and_an_end_too_far_apart_are_two_questions() -> None:
    hours = hours_of(sheet("2026-03-02 08:00 in", "2026-03-03 08:00 out"))
    assert questions(hours) == [("missing_out", 1), ("missing_in", 2)]
    assert hours.classed.is_empty()
    assert hours.weeks.rows()[0][2:] == (0, 0, 0, 0, 0, 2)


def test_a_span_above_thirteen_hours_is_paid_and_asked_about() -> None:
    exactly = hours_of(sheet("2026-03-02 06:00 in", "2026-03-02 19:00 out"))
    assert (questions(exactly), paid_minutes(exactly)) == ([], 13 * 60)
    above = hours_of(sheet("2026-03-02 06:00 in", "2026-03-02 19:00:01 out"))
    assert questions(above) == [("long_span", 1)]
    assert paid_minutes(above) > 13 * 60


def test_a_start_and_an_end_at_one_instant_are_a_question_and_no_time() -> None:
    hours = hours_of(sheet("2026-03-02 08:00 in", "2026-03-02 08:00 out"))
    assert questions(hours) == [("same_time", 1)]
    assert hours.classed.is_empty()


def test_minutes_in_doubt_are_the_mean_of_the_persons_own_spans() -> None:
    spans = ("2026-03-02 08:00 in", "2026-03-02 16:00 out", "2026-03-03 08:00 in", "2026-03-03 18:00 out")
    hours = hours_of(sheet(*spans, "2026-03-04 08:00 in"))
    assert hours.questions["minutes"].to_list() == [9 * 60]  # (8 h + 10 h) / 2


def test_two_swapped_keys_are_read_by_time_and_said() -> None:
    # Start, start, end, end with a break of half an hour between: common practice, no source.
    presses = ("2026-03-02 08:00 in", "2026-03-02 12:00 in", "2026-03-02 12:30 out", "2026-03-02 16:30 out")
    hours = hours_of(sheet(*presses))
    assert paid(hours) == [(1, 2), (3, 4)]
    assert questions(hours) == []
    assert [says[:67] for says in hours.steps["says"]] == [
        "the punch at 2026-03-02 12:00 is marked as a start and read as an e",
        "the punch at 2026-03-02 12:30 is marked as an end and read as a sta",
    ]
    assert hours.steps["seconds"].sum() == 0


def test_marks_stand_where_alternating_would_make_no_sense_either() -> None:
    # Read in turn: three minutes of work and four hours away. As marked the middle is paid, and both ends are asked.
    presses = ("2026-03-02 08:00 in", "2026-03-02 08:03 in", "2026-03-02 12:00 out", "2026-03-02 12:02 out")
    hours = hours_of(sheet(*presses))
    assert paid(hours) == [(2, 3)]
    assert questions(hours) == [("missing_out", 1), ("missing_in", 4)]


def test_the_schedule_says_which_punch_of_an_odd_number_is_missing() -> None:
    # Three unmarked punches of a person without a past. Scheduled 08:00 to 12:30, so 12:30 is the end and a start
    # before it is missing; without a schedule 12:30 is the return from a break, and the end is missing.
    presses = ("2026-03-02 08:00", "2026-03-02 12:00", "2026-03-02 12:30")
    starts, ends = (instant(f"2026-03-02 {at}") for at in ("08:00", "12:30"))
    planned = SCHEDULES.rows([{"person": "Ada", "starts_at": starts, "ends_at": ends}])
    assert questions(hours_of(sheet(*presses), schedules=planned)) == [("missing_in", 3)]
    assert questions(hours_of(sheet(*presses))) == [("missing_out", 3)]


@pytest.mark.parametrize(
    ("first", "last", "asked"),
    [
        ("08:00", "12:30", ("missing_in", 3)),  # near the scheduled end: it is one
        ("08:00", "13:30", ("missing_in", 3)),  # an hour before or after it is near still
        ("08:00", "11:30", ("missing_in", 3)),
        ("08:00", "13:31", ("missing_out", 3)),
        ("08:00", "11:29", ("missing_out", 3)),
        ("12:00", "16:00", ("missing_out", 3)),  # a start and an end alike tell nothing of it
    ],
)
def test_a_punch_within_an_hour_of_a_scheduled_bound_is_read_as_that(
    first: str, last: str, asked: tuple[str, int]
) -> None:
    # Common practice, no source. Bo, who is scheduled otherwise, is nobody that Ada's punches are read by.
    hours = [("Ada", first, last), ("Bo", "04:00", "12:30"), ("Aa", "04:00", "12:30")]
    planned = SCHEDULES.rows(
        {"person": who, "starts_at": instant(f"2026-03-02 {since}"), "ends_at": instant(f"2026-03-02 {until}")}
        for who, since, until in hours
    )
    presses = ("2026-03-02 08:00", "2026-03-02 12:00", "2026-03-02 12:30")
    assert questions(hours_of(sheet(*presses), schedules=planned)) == [asked]


def test_a_schedule_of_somebody_else_alone_says_nothing() -> None:
    presses = ("2026-03-02 08:00", "2026-03-02 12:00", "2026-03-02 12:30")
    starts, ends = (instant(f"2026-03-02 {at}") for at in ("08:00", "12:30"))
    planned = SCHEDULES.rows([{"person": "Bo", "starts_at": starts, "ends_at": ends}])
    assert questions(hours_of(sheet(*presses), schedules=planned)) == [("missing_out", 3)]


def test_of_readings_that_are_equally_likely_a_punch_is_an_end_where_it_can_be() -> None:
    # Unmarked at 08:00 and 09:00, an end at 10:00, each an hour apart: an hour is as usual for work as for a break, so
    # any of three punches may be missing. Of those each punch before the last is an end rather than a start.
    hours = hours_of(sheet("2026-03-02 08:00", "2026-03-02 09:00", "2026-03-02 10:00 out"))
    assert paid(hours) == [(1, 2)]
    assert questions(hours) == [("missing_in", 3)]
