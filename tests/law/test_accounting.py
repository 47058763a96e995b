"""Recorded time and steps make what is paid, each from its own origin: a fault in a rule cannot hide."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np
import polars as pl
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from evenhand.law import compute_hours, find_failing_weeks, say_failing
from evenhand.law.jurisdiction import Pass
from evenhand.law.jurisdictions import JURISDICTIONS
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.hours import WEEKS
from evenhand.terms.settings import Policy, SiteRules
from tests.law.test_properties import site_rules
from tests.law.weeks import attributed_from, hours_of, sheet, workplaces

DAYS = [
    f"2026-03-0{day} {time}" for day in (2, 3, 4, 5, 6) for time in ("07:53 in", "12:00 out", "12:20 in", "18:04 out")
]


def federal_with(monkeypatch: pytest.MonkeyPatch, apply: Any) -> None:
    """Plant a rule after rounding that changes the spans and says nothing of it."""
    shipped = JURISDICTIONS["us_federal"]
    names = [rule.name for rule in shipped.rules]
    place = names.index("us_federal.rounding") + 1
    faulty = Pass("us_federal.faulty", (), "moves", apply)
    rules = (*shipped.rules[:place], faulty, *shipped.rules[place:])
    monkeypatch.setitem(JURISDICTIONS, "us_federal", replace(shipped, rules=rules))


def drop_a_second(spans: Spans, site: Site) -> Spans:
    pay_at = spans.pay_at.copy()
    pay_at[-1] -= 1
    return replace(spans, pay_at=pay_at)


def drop_the_last_punch(spans: Spans, site: Site) -> Spans:
    gap = spans.gap.copy()
    gap[-2] = 0
    return replace(spans, gap=gap)


@pytest.mark.parametrize("rounding_s", [0, 900])
def test_a_sound_week_does_not_fail(rounding_s: int) -> None:
    assert find_failing_weeks(hours_of(sheet(*DAYS), rounding_s=rounding_s).weeks).is_empty()


def test_a_rule_that_drops_a_second_without_a_step_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    federal_with(monkeypatch, drop_a_second)
    failing = find_failing_weeks(hours_of(sheet(*DAYS), rounding_s=900).weeks)
    # Each day 07:53 to 18:04 counts as 08:00 to 18:00; recorded is 9 h 51 min, the break's 20 min are a step.
    recorded, steps, paid = 5 * (9 * 3600 + 51 * 60), 5 * (20 - 7 - 4) * 60, 5 * 10 * 3600 - 1
    assert failing.rows() == [("Ada", date(2026, 3, 1), recorded, steps, paid)]
    assert say_failing(failing).startswith(f"Ada, week of 2026-03-01: {recorded} s recorded and {steps} s of steps")


def test_weeks_that_fail_are_named_with_how_many_more_there_are() -> None:
    rows = [
        {"person": who, "workweek": date(2026, 3, 1), "recorded_s": 100, "steps_s": steps, "ordinary_s": 40,
         "overtime_s": 30, "double_s": 20, "questions": 0}
        for who, steps in (("Ada", -10), ("Bo", -11), ("Cy", 0))
    ]  # fmt: skip
    failing = find_failing_weeks(WEEKS.rows(rows))
    week = date(2026, 3, 1)
    assert failing.rows() == [("Bo", week, 100, -11, 90), ("Cy", week, 100, 0, 90)]
    rest = "That is a fault of this program: pay these weeks from the punches by hand, and report it."
    assert say_failing(failing) == (
        f"Bo, week of 2026-03-01 and 1 more: 100 s recorded and -11 s of steps do not make 90 s paid. {rest}"
    )
    assert say_failing(failing.tail(1)) == (
        f"Cy, week of 2026-03-01: 100 s recorded and 0 s of steps do not make 90 s paid. {rest}"
    )


def test_what_pairing_recorded_is_not_forgotten_by_what_is_paid(monkeypatch: pytest.MonkeyPatch) -> None:
    # The planted rule leaves the last afternoon unpaid. What was recorded is told from where the punches pair, so that
    # no later rule can make it fit.
    federal_with(monkeypatch, drop_the_last_punch)
    assert find_failing_weeks(hours_of(sheet(*DAYS)).weeks).height == 1


def test_recorded_spans_are_what_the_punches_say_whatever_is_paid() -> None:
    hours = hours_of(sheet("2026-03-07 22:53 in", "2026-03-08 06:04 out"), rounding_s=900)
    spans = hours.recorded_spans.with_columns(length=pl.col("ends") - pl.col("starts"))
    # The week ends on Sunday at midnight; clocks are set forward in that night, so 06:04 is 5 h 4 min later.
    assert spans.select("workweek", "length", "punch_in", "punch_out").rows() == [
        (date(2026, 3, 1), 67 * 60, 1, 2),
        (date(2026, 3, 8), (5 * 60 + 4) * 60, 1, 2),
    ]
    assert hours.weeks["recorded_s"].to_list() == spans["length"].to_list()
    assert hours.weeks["steps_s"].to_list() == [-7 * 60, -4 * 60]


def test_overtime_names_the_rule_that_made_it() -> None:
    # Ten hours on five days under California's rules: 2 h a day past 8; what is still ordinary makes exactly 40.
    days = [f"2026-03-0{day} {time}" for day in (2, 3, 4, 5, 6) for time in ("08:00 in", "18:00 out")]
    classed = hours_of(sheet(*days), jurisdiction="california").classed
    overtime = classed.filter(pl.col("pay_class") == "overtime")
    assert overtime["rule"].to_list() == ["california.daily"] * 5
    # With a sixth day of ten hours its first eight are past 40 in the week, its last two past 8 in the day.
    six = hours_of(sheet(*days, "2026-03-07 08:00 in", "2026-03-07 18:00 out"), jurisdiction="california").classed
    last = six.filter(pl.col("workweek") == date(2026, 3, 1)).tail(2)
    assert last.select("pay_class", "rule", length=(pl.col("ends") - pl.col("starts")) // 3600).rows() == [
        ("overtime", "california.weekly", 8),
        ("overtime", "california.daily", 2),
    ]
    assert classed.filter(pl.col("pay_class") == "ordinary")["rule"].null_count() == 5


def test_double_time_names_the_rule_that_made_it() -> None:
    # Fourteen hours: 4 past 8, 2 past 12 (Labor Code 510(a)).
    classed = hours_of(sheet("2026-03-02 06:00 in", "2026-03-02 20:00 out"), jurisdiction="california").classed
    lengths = (classed["ends"] - classed["starts"]) // 3600
    assert list(zip(classed["pay_class"], classed["rule"], lengths, strict=True)) == [
        ("ordinary", None, 8),
        ("overtime", "california.daily", 4),
        ("double", "california.daily", 2),
    ]
    assert np.all(classed["ends"].to_numpy()[:-1] == classed["starts"].to_numpy()[1:])


@settings(max_examples=40, deadline=None)
@given(workplaces, site_rules)
def test_no_week_of_any_workplace_fails_and_its_steps_are_those_that_are_told(workplace: Any, rules: SiteRules) -> None:
    hours = compute_hours(attributed_from(workplace), rules, Policy(), keep_steps=True)
    assert find_failing_weeks(hours.weeks).is_empty()
    told = hours.steps.group_by("person", "workweek").agg(pl.col("seconds").sum())
    both = hours.weeks.join(told, on=["person", "workweek"], how="left").with_columns(pl.col("seconds").fill_null(0))
    assert both["steps_s"].equals(both["seconds"], check_names=False)
    spans = hours.recorded_spans.group_by("person", "workweek").agg(seconds=(pl.col("ends") - pl.col("starts")).sum())
    weeks = hours.weeks.join(spans, on=["person", "workweek"], how="left").with_columns(pl.col("seconds").fill_null(0))
    assert weeks["recorded_s"].equals(weeks["seconds"], check_names=False)


@settings(max_examples=30, deadline=None)
@given(workplaces, st.integers(0, 10**6))
def test_a_second_dropped_anywhere_without_a_step_is_found(workplace: Any, place: int) -> None:
    def drop(spans: Spans, site: Site) -> Spans:
        ends = np.flatnonzero((spans.gap[:-1] != 0) & (spans.gap[1:] == 0)) + 1
        if not len(ends):
            return spans
        pay_at = spans.pay_at.copy()
        pay_at[ends[place % len(ends)]] -= 1
        event("a second was dropped")
        return replace(spans, pay_at=pay_at)

    with pytest.MonkeyPatch.context() as patch:
        federal_with(patch, drop)
        hours = compute_hours(attributed_from(workplace), SiteRules("invented", "UTC"), Policy(), keep_steps=False)
    assert find_failing_weeks(hours.weeks).height == min(1, hours.classed.height)
