"""Rules that change are applied to the workweeks they are in force for."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import polars as pl
import pytest

from evenhand.law import compute_hours
from evenhand.store.own_rules import parse_parameters
from evenhand.terms.parameters import OwnRules
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Policy, SiteRules
from tests.law.test_california import days_of_work
from tests.law.test_published_cases import CASES
from tests.law.weeks import CHICAGO, hours_of, sheet

FEDERAL = SiteRules("Mill", CHICAGO)


def hours_under(rules: SiteRules, *presses: str) -> Any:
    return compute_hours(sheet(*presses), rules, Policy(), keep_steps=True)


def test_each_week_is_computed_with_the_rules_of_its_day() -> None:
    # Two weeks of one ten-hour day each; daily overtime (Labor Code 510(a)) only once California's rules hold.
    rules = replace(FEDERAL, changes=(replace(FEDERAL, jurisdiction="california", since=date(2026, 5, 17)),))
    presses = [*days_of_work(["10"]), *days_of_work(["10"], datetime(2026, 5, 17))]
    assert hours_under(rules, *presses).weeks["overtime_s"].to_list() == [0, 7200]


def test_a_change_inside_a_week_holds_from_the_next_workweek_on() -> None:
    rules = replace(FEDERAL, changes=(replace(FEDERAL, jurisdiction="california", since=date(2026, 5, 12)),))
    presses = [*days_of_work(["10"]), *days_of_work(["10"], datetime(2026, 5, 17))]
    assert hours_under(rules, *presses).weeks["overtime_s"].to_list() == [0, 7200]


def test_changes_that_overlap_are_refused() -> None:
    twice = tuple(replace(FEDERAL, since=date(2026, 5, 17)) for _ in range(2))
    with pytest.raises(Refusal, match="overlap at 2026-05-17"):
        hours_under(replace(FEDERAL, changes=twice), *days_of_work(["8"]))


def test_hours_in_an_old_and_a_new_workweek_go_where_they_pay_more() -> None:
    # 29 CFR 778.302 (figures from memory): Monday 07:00 weeks become Sunday 07:00 weeks. 40 h before the overlap
    # (Sunday 07:00 to Monday 07:00), 5 h in it, 35 h after: in the old week they are overtime, in the new one not.
    case = next(c for c in CASES if c["id"] == "us-778.302")
    old = replace(FEDERAL, workweek_day=0, workweek_s=7 * 3600)
    rules = replace(old, changes=(replace(old, workweek_day=6, since=date(2026, 5, 17)),))
    monday = datetime(2026, 5, 11, 8)
    spans = [(monday + timedelta(days=k), 8) for k in range(5)]
    spans.append((datetime(2026, 5, 17, 8), int(case["inputs"]["hours_in_overlap"])))
    spans += [(datetime(2026, 5, 18, 8) + timedelta(days=k), 7) for k in range(5)]
    presses = [
        f"{at.isoformat(' ')} {way}"
        for start, hours in spans
        for at, way in ((start, "in"), (start + timedelta(hours=hours), "out"))
    ]
    weeks = hours_under(rules, *presses).weeks
    rate = Decimal(case["inputs"]["hourly_rate"])
    pay = [
        rate * (row["ordinary_s"] + row["overtime_s"] * Decimal("1.5")) / 3600 for row in weeks.iter_rows(named=True)
    ]
    assert pay == [Decimal(case["expected"]["old_week_pay"]), Decimal(case["expected"]["new_week_pay"])]
    assert sum(pay) == Decimal(case["expected"]["pay_at_least"])


def test_the_overlap_goes_to_the_new_week_where_that_pays_more() -> None:
    # The same change, 20 h before, 5 in the overlap and 40 after: overtime only in the new week.
    old = replace(FEDERAL, workweek_day=0, workweek_s=7 * 3600)
    rules = replace(old, changes=(replace(old, workweek_day=6, since=date(2026, 5, 17)),))
    spans = [(datetime(2026, 5, 11, 8) + timedelta(days=k), 4) for k in range(5)] + [(datetime(2026, 5, 17, 8), 5)]
    spans += [(datetime(2026, 5, 18, 8) + timedelta(days=k), 8) for k in range(5)]
    presses = [
        f"{at.isoformat(' ')} {way}"
        for start, hours in spans
        for at, way in ((start, "in"), (start + timedelta(hours=hours), "out"))
    ]
    hours = hours_under(rules, *presses)
    assert hours.weeks.select("ordinary_s", "overtime_s").rows() == [(20 * 3600, 0), (40 * 3600, 5 * 3600)]
    # Counted in the old week, its 25 hours and the 40 of the new one hold no overtime.
    step = hours.steps.filter(rule="workweek_moved").row(0, named=True)
    assert (step["workweek"], step["ends"] - step["starts"], step["seconds"]) == (date(2026, 5, 17), 5 * 3600, 0)
    assert step["says"] == (
        "5 h lie in the workweeks of 2026-05-11 and 2026-05-17, since the site's workweek moved; counted in that of "
        "2026-05-17, both come to 5 h overtime; in that of 2026-05-11, to 0 min overtime"
    )
    assert step["cites"] == "29 CFR 778.301, 778.302"


def test_hours_worth_the_same_in_both_weeks_are_said_to_be_so_and_nothing_is_said_without_any() -> None:
    # 29 CFR 778.302. Twenty hours before the overlap, and 5 in it or none; no overtime either way.
    old = replace(FEDERAL, workweek_day=0, workweek_s=7 * 3600)
    rules = replace(old, changes=(replace(old, workweek_day=6, since=date(2026, 5, 17)),))
    before = [f"2026-05-{day} {at}" for day in range(11, 16) for at in ("08:00 in", "12:00 out")]
    steps = hours_under(rules, *before, "2026-05-17 08:00 in", "2026-05-17 13:00 out").steps
    [says] = steps.filter(rule="workweek_moved")["says"]
    assert says.endswith("both come to 0 min overtime, as they would counted in that of 2026-05-17")
    assert hours_under(rules, *before).steps.filter(rule="workweek_moved").is_empty()


@pytest.mark.parametrize("jurisdiction", ["us_federal", "california", "alaska", "colorado", "nevada"])
def test_no_hour_is_paid_twice_where_the_workweek_moves(jurisdiction: str) -> None:
    # 29 CFR 778.302: an hour of the overlap belongs to one of the two weeks. Nights of ten hours over both lines.
    old = replace(FEDERAL, jurisdiction=jurisdiction, workweek_day=0, workweek_s=7 * 3600)
    for day, second in ((6, 7 * 3600), (3, 0), (0, 19 * 3600)):
        moved = replace(old, workweek_day=day, workweek_s=second, since=date(2026, 5, 17))
        rules = replace(old, changes=(moved,))
        presses = [
            f"{(datetime(2026, 5, 10, 22) + timedelta(days=k, hours=h)).isoformat(' ')} {way}"
            for k in range(16)
            for h, way in ((0, "in"), (10, "out"))
        ]
        weeks = hours_under(rules, *presses).weeks
        assert sum(weeks[name].sum() for name in ("ordinary_s", "overtime_s", "double_s")) == 16 * 36_000


def test_no_hour_is_paid_twice_where_the_last_punch_lies_in_both_weeks() -> None:
    # 29 CFR 778.302. Twelve hours a day from Monday to Thursday; weeks that began on Mondays begin on that Thursday. In
    # either week Thursday has 4 h past 8 in the day, so both pay 16 h of overtime and the old week keeps them.
    old = replace(FEDERAL, jurisdiction="california", workweek_day=0)
    rules = replace(old, changes=(replace(old, workweek_day=3, since=date(2026, 5, 14)),))
    spans = [(datetime(2026, 5, 11 + k, 8), 12) for k in range(4)]
    presses = [
        f"{at.isoformat(' ')} {way}"
        for start, hours in spans
        for at, way in ((start, "in"), (start + timedelta(hours=hours), "out"))
    ]
    weeks = hours_under(rules, *presses).weeks
    assert weeks.select("recorded_s", "overtime_s").rows() == [(48 * 3600, 16 * 3600)]


def test_each_person_gets_the_better_of_the_two_ways_with_all_that_belongs_to_it() -> None:
    # 29 CFR 778.302. Ada has 40 h before the overlap, so its 5 are overtime in the old week; Bo has 40 after it.
    old = replace(FEDERAL, workweek_day=0, workweek_s=7 * 3600)
    rules = replace(old, changes=(replace(old, workweek_day=6, since=date(2026, 5, 17)),))

    def presses(before: int, after: int) -> list[str]:
        spans = [(datetime(2026, 5, 11, 8) + timedelta(days=k), before) for k in range(5)]
        spans += [(datetime(2026, 5, 17, 8), 5)]
        spans += [(datetime(2026, 5, 18, 8) + timedelta(days=k), after) for k in range(5)]
        return [
            f"{at + timedelta(hours=h):%Y-%m-%d %H:%M} {way}" for at, n in spans for h, way in ((0, "in"), (n, "out"))
        ]

    ada, bo = sheet(*presses(8, 4)), sheet(*presses(4, 8), person="Bo")
    both = pl.concat([bo.with_columns(pl.col("punch") + 100), ada])
    hours = compute_hours(both, rules, Policy(), keep_steps=True)
    weeks = (date(2026, 5, 11), date(2026, 5, 17))
    assert hours.weeks.select("person", "workweek", pl.col("ordinary_s", "overtime_s") // 3600).rows() == [
        ("Ada", weeks[0], 40, 5), ("Ada", weeks[1], 20, 0), ("Bo", weeks[0], 20, 0), ("Bo", weeks[1], 40, 5)
    ]  # fmt: skip
    made = hours.classed.filter(pl.col("pay_class") == "overtime").group_by("person", "workweek").agg(
        hours=(pl.col("ends") - pl.col("starts")).sum() // 3600
    )  # fmt: skip
    assert made.sort("person").rows() == [("Ada", weeks[0], 5), ("Bo", weeks[1], 5)]
    assert hours.steps.filter(to_class="overtime").select("person", "workweek").unique().sort("person").rows() == [
        ("Ada", weeks[0]), ("Bo", weeks[1])
    ]  # fmt: skip
    assert hours.recorded_spans.height == 22


def test_of_rules_that_change_twice_each_holds_for_its_own_weeks() -> None:
    # A day of ten hours a week: federal, then California (Labor Code 510(a)), then federal again.
    california = replace(FEDERAL, jurisdiction="california", since=date(2026, 5, 17))
    rules = replace(FEDERAL, changes=(california, replace(FEDERAL, since=date(2026, 5, 24))))
    sundays = [datetime(2026, 5, 10) + timedelta(days=7 * k) for k in range(4)]
    hours = hours_under(rules, *(press for sunday in sundays for press in days_of_work(["10"], sunday)))
    assert hours.weeks.select("workweek", "overtime_s").rows() == [
        (sunday.date(), overtime) for sunday, overtime in zip(sundays, (0, 7200, 0, 0), strict=True)
    ]


def test_a_seventh_day_that_only_the_old_week_has_is_kept_with_its_double_time() -> None:
    # 29 CFR 778.302 under California's classes: 13 h on the Sunday between the weeks. In the old week it is the seventh
    # workday (Labor Code 510(a)): 8 h of overtime, 5 double. In the new one it would be its first day: 4 h and 1.
    old = replace(FEDERAL, jurisdiction="california", workweek_day=0)
    rules = replace(old, changes=(replace(old, workweek_day=6, since=date(2026, 5, 17)),))
    spans = [(datetime(2026, 5, 11 + k, 8), 4) for k in range(6)] + [(datetime(2026, 5, 17, 8), 13)]
    presses = [f"{at + timedelta(hours=h)} {way}" for at, n in spans for h, way in ((0, "in"), (n, "out"))]
    weeks = hours_under(rules, *presses).weeks
    columns = ("workweek", "ordinary_s", "overtime_s", "double_s")
    assert weeks.select(columns).rows() == [(date(2026, 5, 11), 24 * 3600, 8 * 3600, 5 * 3600)]


def test_a_change_without_a_date_or_before_the_one_before_it_is_refused() -> None:
    changes = (replace(FEDERAL, since=date(2026, 5, 17)), replace(FEDERAL, since=date(2026, 5, 10)))
    says = "site Mill: its changes of rules overlap at 2026-05-10; give each a date, earliest first."
    with pytest.raises(Refusal, match=re.escape(says)):
        hours_under(replace(FEDERAL, changes=changes), *days_of_work(["8"]))
    with pytest.raises(Refusal, match="site Mill: a change of its rules has no date"):
        hours_under(replace(FEDERAL, changes=(FEDERAL,)), *days_of_work(["8"]))


LIMIT = """
[weekly_limit]
meaning = "An agreement's week"
unit = "h"

[[weekly_limit.values]]
from = 2026-05-17
value = 38
cites = "invented agreement, section 4"
"""


def own(text: str = LIMIT, file: str = "overtime", based_on: str = "us_federal") -> dict[str, OwnRules]:
    return {"ours": OwnRules("ours", based_on, {file: parse_parameters(text, Path(f"rules/ours/{file}.toml"))})}


def test_a_workplaces_own_number_holds_from_its_date_on() -> None:
    presses = [*days_of_work(["8"] * 5), *days_of_work(["8"] * 5, datetime(2026, 5, 17))]
    hours = hours_of(sheet(*presses), jurisdiction="ours", own=own())
    assert hours.weeks["overtime_s"].to_list() == [0, 7200]
    assert "past 38 hours" in hours.steps.filter(rule="us_federal.overtime")["says"][0]


@pytest.mark.parametrize(
    ("mine", "says"),
    [
        (own(based_on="atlantis"), "rests on the jurisdiction 'atlantis'"),
        (own(file="overtimes"), "rules/ours/overtimes.toml: us_federal has no rule overtimes"),
        (own(LIMIT.replace("weekly", "monthly")), "rules/ours/overtime.toml: the key monthly_limit is not known"),
        (own(LIMIT.replace('"h"', '"min"')), "has unit = 'min'"),
        (own(LIMIT.replace("38", "[38]")), "weekly_limit has a value of another form; the rule wants one number."),
    ],
)
def test_own_rules_that_change_nothing_known_are_refused(mine: dict[str, OwnRules], says: str) -> None:
    with pytest.raises(Refusal) as refused:
        hours_of(sheet(*days_of_work(["8"])), jurisdiction="ours", own=mine)
    assert says in str(refused.value)
