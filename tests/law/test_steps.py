"""Each step tells whose time it is, in which week, from when to when, from which punches, and why in words."""

from __future__ import annotations

from datetime import date
from typing import Any

import polars as pl
import pytest

from evenhand.law import compute_hours
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Grace, Policy, SiteRules
from evenhand.terms.sources import SCHEDULES
from tests.law.test_california import days_of_work
from tests.law.weeks import CHICAGO, hours_of, instant, sheet

DAY = "2026-03-02 "
WEEK = date(2026, 3, 1)


def steps(hours: Any) -> list[tuple[Any, ...]]:
    """Return each step: person, rule, start and end on Monday's clock, seconds, its punches, words."""
    names = ("person", "rule", "starts", "ends", "seconds", "punch_a", "punch_b", "says")
    rows = hours.steps.select(names).rows()
    midnight = instant(DAY + "00:00")

    def clock(at: int) -> str:
        return f"{(at - midnight) // 3600:02}:{(at - midnight) // 60 % 60:02}:{(at - midnight) % 60:02}"

    return [(who, rule, clock(since), clock(until), *rest) for who, rule, since, until, *rest in rows]


def test_a_federal_day_is_told_step_by_step_from_its_punches() -> None:
    # 29 CFR 785.48(b): to the nearest quarter; 785.18: a break of ten minutes is paid. Bo's day is Bo's.
    ada = sheet(DAY + "08:07:29 in", DAY + "08:07:49 in", DAY + "12:00 out", DAY + "12:10 in", DAY + "16:08 out")
    bo = sheet(DAY + "09:08 in", DAY + "15:07:30 out", person="Bo").with_columns(pl.col("punch") + 10)
    hours = hours_of(pl.concat([bo, ada]), rounding_s=900)
    on = "2026-03-02"
    assert steps(hours) == [
        ("Ada", "us_federal.rounding", "08:00:00", "08:07:29", 449, 1, None,
         f"the start at {on} 08:07:29 counts as {on} 08:00, the nearest 15 minutes"),
        ("Ada", "recorded.repeats", "08:07:29", "08:07:49", 0, 2, 1,
         f"the presentation at {on} 08:07:49 is one punch with the one at {on} 08:07:29, 20 s apart, and counts once"),
        ("Ada", "us_federal.rest_breaks", "12:00:00", "12:10:00", 600, 3, 4,
         f"the break from {on} 12:00 to {on} 12:10 is shorter than 30 minutes: paid rest, not a meal"),
        ("Ada", "us_federal.rounding", "16:08:00", "16:15:00", 420, 5, None,
         f"the end at {on} 16:08 counts as {on} 16:15, the nearest 15 minutes"),
        ("Bo", "us_federal.rounding", "09:08:00", "09:15:00", -420, 11, None,
         f"the start at {on} 09:08 counts as {on} 09:15, the nearest 15 minutes"),
        ("Bo", "us_federal.rounding", "15:07:30", "15:15:00", 450, 12, None,
         f"the end at {on} 15:07:30 counts as {on} 15:15, the nearest 15 minutes"),
    ]  # fmt: skip
    assert set(hours.steps["workweek"]) == {WEEK}
    cites = dict(hours.steps.select("rule", "cites").rows())
    assert (cites["us_federal.rounding"], cites["us_federal.rest_breaks"]) == (
        "29 CFR 785.48(b)", "29 CFR 785.18; 29 CFR 785.19"
    )  # fmt: skip
    assert hours.weeks.select("person", "recorded_s", "steps_s", "ordinary_s").rows() == [
        ("Ada", (7 * 60 + 50) * 60 + 31, 449 + 600 + 420, (8 * 60 + 15) * 60),
        ("Bo", (5 * 60 + 59) * 60 + 30, 30, 6 * 3600),
    ]


def test_a_step_over_the_line_of_two_weeks_is_parted_there() -> None:
    # The week begins on Sunday at midnight. An end at 23:53 on Saturday counts as midnight: all in the old week. A
    # paid break from 23:50 to 00:10 is ten minutes of either.
    late = hours_of(sheet("2026-03-14 20:00 in", "2026-03-14 23:53 out"), rounding_s=900)
    assert late.steps.select("workweek", "seconds").rows() == [(date(2026, 3, 8), 420)]
    presses = ("2026-03-14 20:00 in", "2026-03-14 23:50 out", "2026-03-15 00:10 in", "2026-03-15 01:00 out")
    rest = hours_of(sheet(*presses))
    rows = rest.steps.filter(rule="us_federal.rest_breaks").select("workweek", "starts", "ends", "seconds").rows()
    line = instant("2026-03-15 00:00")
    assert rows == [(date(2026, 3, 8), line - 600, line, 600), (date(2026, 3, 15), line, line + 600, 600)]
    said = rest.steps.filter(rule="us_federal.workweek").select("workweek", "seconds", "punch_a", "punch_b", "says")
    assert said.rows() == [
        (date(2026, 3, 15), 0, 2, 3, "the time from 2026-03-15 00:00 to 2026-03-15 00:10 falls in the workweek that "
                                    "begins at 2026-03-15 00:00")
    ]  # fmt: skip


def test_time_past_midnight_is_said_to_fall_in_the_next_workday_and_workweek() -> None:
    hours = hours_of(sheet("2026-03-14 20:00 in", "2026-03-15 01:00 out"), jurisdiction="alaska")
    assert hours.steps.select("rule", "workweek", "says", "cites").rows() == [
        ("alaska.workday", date(2026, 3, 15), "the time from 2026-03-15 00:00 to 2026-03-15 01:00 falls in the workday "
                                             "that begins at 2026-03-15 00:00", "AS 23.10.060")
    ]  # fmt: skip


def test_grace_says_what_counts_as_the_schedule() -> None:
    planned = SCHEDULES.rows(
        {"person": who, "starts_at": instant(DAY + since), "ends_at": instant(DAY + "16:00")}
        for who, since in (("Ada", "08:00"), ("Bo", "09:00"))
    )
    ada = sheet(DAY + "07:51 in", DAY + "16:09 out")
    bo = sheet(DAY + "08:58 in", DAY + "15:55 out", person="Bo").with_columns(pl.col("punch") + 10)
    grace = Policy(grace=Grace(600, 600, 600, 600))
    hours = hours_of(pl.concat([ada, bo]), policy=grace, schedules=planned)
    on, rule = "2026-03-02", "recorded.grace"
    assert steps(hours) == [
        ("Ada", rule, "07:51:00", "08:00:00", -540, 1, None,
         f"the start at {on} 07:51 counts as the scheduled start at {on} 08:00"),
        ("Ada", rule, "16:00:00", "16:09:00", -540, 2, None,
         f"the end at {on} 16:09 counts as the scheduled end at {on} 16:00"),
        ("Bo", rule, "08:58:00", "09:00:00", -120, 11, None,
         f"the start at {on} 08:58 counts as the scheduled start at {on} 09:00"),
        ("Bo", rule, "15:55:00", "16:00:00", 300, 12, None,
         f"the end at {on} 15:55 counts as the scheduled end at {on} 16:00"),
    ]  # fmt: skip
    assert set(hours.steps["cites"]) == {"the workplace's policy; 29 CFR 785.48(a)"}


def test_a_trifle_says_how_short_is_too_short() -> None:
    # Of Ada's two shifts the first lasts two minutes; of three it is not shorter than three. A break in it makes it two
    # runs, and a shift that is not one run is no trifle.
    presses = (DAY + "08:00 in", DAY + "08:02 out", DAY + "14:00 in", DAY + "14:03 out")
    hours = hours_of(sheet(*presses), policy=Policy(trifle_s=180))
    on = "2026-03-02"
    assert steps(hours) == [
        ("Ada", "recorded.trifles", "08:00:00", "08:02:00", -120, 1, 2,
         f"the shift from {on} 08:00 to {on} 08:02 is shorter than the workplace's trifle of 3 min and not paid")
    ]  # fmt: skip
    apart = (DAY + "08:00 in", DAY + "08:02 out", DAY + "09:02 in", DAY + "09:04 out")
    assert hours_of(sheet(*apart), policy=Policy(trifle_s=3 * 3600)).steps.is_empty()


def test_what_is_asked_says_what_it_may_be_about_in_minutes() -> None:
    # Where no span of the person's is known a missing half stands for half a shift, four hours: common practice, no
    # source. A span above thirteen hours may be too long by what it has beyond the person's usual one; spans that
    # begin more than two weeks off do not say what is usual: 14 x 24 h from 2 March, 08:00, are 09:00 in summer.
    alone = hours_of(sheet("2026-03-02 08:00 in")).questions
    assert alone.select("kind", "at", "workweek", "punch", "minutes").rows() == [
        ("missing_out", instant("2026-03-02 08:00"), WEEK, 1, 240)
    ]
    days = [f"2026-03-{d:02} {at}" for d in (2, 3) for at in ("08:00 in", "16:00 out")]
    long = hours_of(sheet(*days, "2026-03-04 06:00 in", "2026-03-04 19:30 out")).questions
    usual = (8 + 8 + 13.5) / 3
    assert long.select("kind", "minutes").rows() == [("long_span", round((13.5 - usual) * 60))]
    for last, minutes in (("2026-03-16 09:00 in", 480), ("2026-03-16 09:01 in", 540), ("2026-03-20 08:00 in", 240)):
        presses = (DAY + "08:00 in", DAY + "15:00 out", "2026-03-03 08:00 in", "2026-03-03 17:00 out", last)
        assert hours_of(sheet(*presses)).questions["minutes"].to_list() == [minutes]


def test_each_persons_usual_span_is_their_own() -> None:
    ada = sheet(DAY + "08:00 in", DAY + "14:00 out", "2026-03-03 08:00 in")
    bo = sheet(DAY + "08:00 in", DAY + "18:00 out", "2026-03-03 08:00 out", person="Bo").with_columns(
        pl.col("punch") + 10
    )
    cy = sheet("2026-03-03 08:00 in", person="Cy").with_columns(pl.col("punch") + 20)
    asked = hours_of(pl.concat([cy, ada, bo])).questions
    assert asked.select("person", "kind", "punch", "minutes").rows() == [
        ("Ada", "missing_out", 3, 360), ("Bo", "missing_in", 13, 600), ("Cy", "missing_out", 21, 240)
    ]  # fmt: skip


def test_a_span_over_the_line_of_two_weeks_is_one_usual_span() -> None:
    presses = ("2026-03-14 20:00 in", "2026-03-15 01:00 out", "2026-03-15 20:00 in")
    assert hours_of(sheet(*presses)).questions["minutes"].to_list() == [300]


@pytest.mark.parametrize("hours", [7.5, 11])
def test_an_alternative_day_outside_the_statute_is_refused_with_its_bounds(hours: float) -> None:
    # Labor Code 511, from memory: more than eight and up to ten hours.
    with pytest.raises(Refusal) as refused:
        hours_of(sheet(*days_of_work(["8"])), jurisdiction="california", alternative_day_s=round(hours * 3600))
    assert str(refused.value) == (
        f"site invented: alternative_day_hours is {hours:g}; such a schedule has days of more than 8 and up to 10 "
        "hours (Cal. Labor Code 511(a), from memory); correct it."
    )
    # People without a site are named as such, and twelve hours are health care's alone (orders 4 and 5, 3(B)(8)).
    with pytest.raises(Refusal, match=r"people without a site: alternative_day_hours is 12.*up to 10"):
        compute_hours(sheet(*days_of_work(["8"])), SiteRules("", CHICAGO, "california", alternative_day_s=43_200),
                      Policy(), keep_steps=False)  # fmt: skip


def test_states_say_which_limit_made_overtime() -> None:
    # 7 CCR 1103-1, rule 4.1.1; AS 23.10.060(b); 29 USC 207(j). A day of 13 hours from 06:00, one meal of half an hour.
    worked = sheet(DAY + "06:00 in", DAY + "10:00 out", DAY + "10:30 in", DAY + "19:30 out")
    on = "2026-03-02"
    for jurisdiction, rules, rule, says in (
        ("colorado", {}, "colorado.twelve_hours",
         f"past 12 hours in the workday, or 12 consecutive hours, from {on} 18:30 on: overtime until {on} 19:30"),
        ("alaska", {}, "alaska.daily", f"past 8 hours in the workday from {on} 14:30 on: overtime until {on} 19:30"),
        ("alaska", {"alternative_day_s": 36_000}, "alaska.daily",
         f"past 10 hours in the workday from {on} 16:30 on: overtime until {on} 19:30"),
        ("us_eight_and_eighty", {"fortnight": WEEK}, "us_eight_and_eighty.daily",
         f"past 8 hours in the workday from {on} 14:30 on: overtime until {on} 19:30"),
    ):  # fmt: skip
        hours = hours_of(worked, jurisdiction=jurisdiction, **rules)
        classed = hours.steps.filter(to_class="overtime")
        assert classed.select("rule", "from_class", "seconds", "says").rows() == [(rule, "ordinary", 0, says)]


def test_the_fortnight_says_where_its_eighty_hours_end() -> None:
    # 29 USC 207(j): eleven days of eight hours; the eleventh's are past eighty. Its second week begins on 8 March.
    days = [f"2026-03-{d:02} {at}" for d in range(1, 12) for at in ("06:00 in", "14:00 out")]
    hours = hours_of(sheet(*days), jurisdiction="us_eight_and_eighty", fortnight=date(2026, 2, 15))
    assert hours.steps.select("workweek", "rule", "says", "cites").rows() == [
        (date(2026, 3, 8), "us_eight_and_eighty.fortnight",
         "past 80 ordinary hours in the 14 days from 2026-03-11 06:00 on: overtime until 2026-03-11 14:00",
         "29 USC 207(j); 29 CFR 778.601")
    ]  # fmt: skip
    # Counted from the week between them the eighty hours are never reached: seven days lie in one, four in another.
    other = hours_of(sheet(*days), jurisdiction="us_eight_and_eighty", fortnight=date(2026, 2, 22))
    assert other.steps.is_empty()
