"""Single rules at their limits, and the words they give."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import polars as pl
import pytest

from evenhand.law import compute_hours
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.tables import ATTRIBUTED
from tests.law.weeks import hours_of, paid, paid_minutes, questions, sheet

DAY = "2026-03-02 "


def test_no_punches_give_no_hours() -> None:
    hours = compute_hours(ATTRIBUTED.empty(), SiteRules("invented", "America/Chicago"), Policy(), keep_steps=True)
    assert all(frame.is_empty() for frame in (hours.classed, hours.weeks, hours.questions, hours.steps))


@pytest.mark.parametrize("since", [None, date(2026, 3, 8)])
def test_only_what_is_asked_for_is_worked_out_and_the_weeks_are_the_same(since: date | None) -> None:
    rules = SiteRules("invented", "America/Chicago", rounding_s=900)
    if since:
        rules = replace(rules, changes=(replace(rules, rounding_s=300, since=since),))
    attributed = sheet(DAY + "08:07", DAY + "16:00", "2026-03-09 08:07", "2026-03-09 16:00", "2026-03-10 08:00")
    whole = compute_hours(attributed, rules, Policy(), keep_steps=True)
    assert not whole.steps.is_empty()
    assert not whole.recorded_spans.is_empty()
    plain = compute_hours(attributed, rules, Policy(), keep_steps=False)
    assert (plain.steps.height, plain.recorded_spans.height) == (0, 0)
    assert plain.questions.equals(whole.questions)
    least = compute_hours(attributed, rules, Policy(), keep_steps=False, parts=("classed",))
    assert set(least.frames) == {"weeks", "classed"}
    assert least.weeks.equals(whole.weeks)
    with pytest.raises(KeyError):
        _ = least.questions


def test_two_unmarked_presentations_within_a_minute_are_one_punch() -> None:
    hours = hours_of(sheet(DAY + "08:00:00", DAY + "08:00:20", DAY + "16:00"))
    assert (paid(hours), questions(hours)) == ([(1, 3)], [])
    assert hours.steps.select("rule", "seconds", "punch_a", "punch_b").rows() == [("recorded.repeats", 0, 2, 1)]
    assert "08:00:20 is one punch with the one at 2026-03-02 08:00, 20 s apart" in hours.steps["says"][0]


def test_of_doubled_starts_the_first_counts_and_of_doubled_ends_the_last() -> None:
    hours = hours_of(sheet(DAY + "08:00:00 in", DAY + "08:00:40 in", DAY + "16:00:00 out", DAY + "16:00:40 out"))
    assert paid(hours) == [(1, 4)]
    assert hours.weeks["ordinary_s"][0] == 8 * 3600 + 40


def test_a_start_and_an_end_seconds_apart_stay_two_punches() -> None:
    hours = hours_of(sheet(DAY + "08:00:00 in", DAY + "08:00:30 out", DAY + "08:00:50 in", DAY + "16:00 out"))
    # Out 20 s: shorter than a meal, so paid rest; the day is paid from 08:00 to 16:00.
    assert paid_minutes(hours) == 8 * 60


def test_a_break_of_29_minutes_59_is_paid_and_one_of_30_is_not() -> None:
    paid_break = hours_of(sheet(DAY + "08:00", DAY + "12:00:00", DAY + "12:29:59", DAY + "16:00"))
    assert paid_minutes(paid_break) == 8 * 60
    meal = hours_of(sheet(DAY + "08:00", DAY + "12:00:00", DAY + "12:30:00", DAY + "16:00"))
    assert paid_minutes(meal) == 7 * 60 + 30


def test_a_meal_is_judged_on_raw_punches_even_where_pay_is_rounded() -> None:
    # 12:08 to 12:37 is 29 minutes: paid, and its punches do not move pay. 12:08 to 12:38 is 30: a meal.
    hours = hours_of(sheet(DAY + "08:00", DAY + "12:08", DAY + "12:37", DAY + "16:00"), rounding_s=900)
    assert paid_minutes(hours) == 8 * 60
    assert hours.steps["rule"].to_list() == ["us_federal.rest_breaks"]
    meal = hours_of(sheet(DAY + "08:00", DAY + "12:08", DAY + "12:38", DAY + "16:00"), rounding_s=900)
    assert paid_minutes(meal) == 4 * 60 + 15 + 3 * 60 + 15  # 08:00-12:15 and 12:45-16:00


@pytest.mark.parametrize(
    ("unit_s", "start", "minutes"), [(900, "08:07:29", 480), (900, "08:07:30", 465), (360, "08:03", 474)]
)
def test_half_an_increment_goes_up(unit_s: int, start: str, minutes: int) -> None:
    # 29 CFR 785.48(b) leaves the tie open; ours is half up, seconds kept: 08:07:30 -> 08:15, 08:03 -> 08:06.
    assert paid_minutes(hours_of(sheet(DAY + start, DAY + "16:00"), rounding_s=unit_s)) == minutes


def test_ends_round_by_the_same_tie_rule_as_starts() -> None:
    # 08:03 -> 08:06 and 16:03 -> 16:06: what the start loses the end gains.
    hours = hours_of(sheet(DAY + "08:03", DAY + "16:03"), rounding_s=360)
    assert paid_minutes(hours) == 480
    assert hours.steps["seconds"].to_list() == [-180, 180]


def test_civil_time_of_each_reader_decides_where_zones_differ_by_half_an_hour() -> None:
    # Adelaide is UTC+9:30, so 08:07 there is 22:37 UTC: to the nearest quarter it is 08:00, not 22:45 UTC.
    attributed = sheet(DAY + "08:07", DAY + "16:00", zone="Australia/Adelaide")
    assert paid_minutes(hours_of(attributed, "Australia/Adelaide", rounding_s=900)) == 480


def test_each_punch_is_rounded_and_said_by_the_clock_of_its_own_reader() -> None:
    # In at 08:07 in Chicago, out at 16:10 in Adelaide the next day, UTC-6 and UTC+10:30 in early March: by turns,
    # and past a change of clocks. In UTC that is 14:07 to 05:40, 15 h 33 min; to the nearest quarter of each clock
    # 14:00 to 05:45, 15 h 45 min. From 8 March on Chicago's 08:07 is 13:07.
    policy = Policy(longest_span_s=20 * 3600, long_span_s=20 * 3600)
    rows = []
    for day in (6, 7, 8):
        for zone, at, way in (
            ("America/Chicago", f"0{day} 08:07", "in"),
            ("Australia/Adelaide", f"{day + 1:02} 16:10", "out"),
        ):
            rows.append(sheet(f"2026-03-{at} {way}", zone=zone).with_columns(punch=pl.lit(len(rows) + 1, pl.Int64)))
    hours = hours_of(pl.concat(rows), policy=policy, rounding_s=900)
    lengths = ((hours.classed["ends"] - hours.classed["starts"]) // 60).to_list()
    assert hours.weeks["recorded_s"].sum() == (2 * (15 * 60 + 33) + 16 * 60 + 33) * 60
    assert sum(lengths) == 2 * (15 * 60 + 45) + 16 * 60 + 45
    said = hours.steps.filter(rule="us_federal.rounding")["says"].to_list()
    assert said[:2] == [
        "the start at 2026-03-06 08:07 counts as 2026-03-06 08:00, the nearest 15 minutes",
        "the end at 2026-03-07 16:10 counts as 2026-03-07 16:15, the nearest 15 minutes",
    ]


def test_exactly_forty_hours_is_no_overtime_and_one_second_more_is() -> None:
    # 29 USC 207(a)(1): "a workweek longer than forty hours".
    days = [f"2026-03-0{day} {time}" for day in (2, 3, 4, 5, 6) for time in ("08:00 in", "16:00 out")]
    assert hours_of(sheet(*days)).weeks["overtime_s"].to_list() == [0]
    assert hours_of(sheet(*days[:-1], "2026-03-06 16:00:01 out")).weeks["overtime_s"].to_list() == [1]


def test_overtime_says_from_when_and_cites_the_statute() -> None:
    days = [f"2026-03-0{day} {time}" for day in (2, 3, 4, 5, 6) for time in ("08:00 in", "17:00 out")]
    step = hours_of(sheet(*days)).steps.row(-1, named=True)
    assert step["says"] == "past 40 hours in the workweek from 2026-03-06 12:00 on: overtime until 2026-03-06 17:00"
    assert (step["seconds"], step["from_class"], step["to_class"]) == (0, "ordinary", "overtime")
    assert step["cites"] == "29 USC 207(a)(1); 29 CFR 778.101"


def test_a_person_at_two_sites_has_one_workweek() -> None:
    # 29 CFR 778.103: all hours for the employer count together; readers in two zones.
    chicago = sheet(*(f"2026-03-0{d} {t}" for d in (2, 3, 4) for t in ("08:00 in", "18:00 out")))
    denver = sheet(*(f"2026-03-0{d} {t}" for d in (5, 6) for t in ("08:00 in", "18:00 out")), zone="America/Denver")
    both = chicago.vstack(denver.with_columns(denver["punch"] + 100))
    assert hours_of(both).weeks["overtime_s"].to_list() == [10 * 3600]


@pytest.mark.parametrize(
    ("rules", "policy", "says"),
    [
        ({"rounding_s": 600}, Policy(), "785.48"),
        (
            {},
            Policy(meal_s=1200),
            r"meal_minutes of \[policy\] is 20, .* up to 20 minutes unpaid \(29 CFR 785.18\)",
        ),
        ({"jurisdiction": "atlantis"}, Policy(), "atlantis"),
    ],
)
def test_settings_the_law_does_not_allow_are_refused(rules: dict[str, int], policy: Policy, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        hours_of(sheet(DAY + "08:00", DAY + "16:00"), policy=policy, **rules)
