"""Work periods of fire protection and law enforcement: the published table and the regulation's own example."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.law import Hours
from evenhand.law.us_public_safety.work_period import maximum_hours
from evenhand.terms.parameters import OwnRules, dated
from evenhand.terms.records import Refusal
from tests.law.test_published_cases import week_of_work
from tests.law.weeks import hours_of, instant, sheet

SUNDAY = date(2026, 5, 10)
WEEK_S = 7 * 86_400
# The rows of the table in 29 CFR 553.230(c) for whole workweeks, read in a public copy of the regulation, and the same
# for 7 and 14 days in 110 Stat. 4385. Days: fire protection, law enforcement [h].
PUBLISHED = {28: (212, 171), 21: (159, 128), 14: (106, 86), 7: (53, 43)}


def worked(
    by_week: list[str], days: int, kind: str = "fire_protection", begins: date | None = SUNDAY, **rules: Any
) -> Hours:
    """Return the hours of weeks from Sunday 2026-05-10 on, with so many hours of work in each."""
    first = instant("2026-05-10 00:00")
    presses = [
        press for week, hours in enumerate(by_week) for press in week_of_work(Decimal(hours), first + week * WEEK_S)
    ]
    given = {"jurisdiction": "us_public_safety", "public_safety": kind, "work_period_days": days, **rules}
    return hours_of(sheet(*presses), work_period=begins, **given)


def overtime_h(hours: Hours) -> list[Decimal]:
    return [Decimal(seconds) / 3600 for seconds in hours.weeks.sort("workweek")["overtime_s"]]


@pytest.mark.parametrize("days", PUBLISHED)
def test_the_maximum_of_a_period_is_the_published_one(days: int) -> None:
    assert (maximum_hours(212, days), maximum_hours(171, days)) == PUBLISHED[days]


def test_hours_are_balanced_over_the_whole_period() -> None:
    # 29 CFR 553.231(b): 80, 80, 52 and 0 hours are 212 in 28 days, and no overtime is due; with a period of 14 days
    # 160 - 106 = 54 hours are. By the workweek it would be 40 + 40 + 12 = 92.
    assert overtime_h(worked(["80", "80", "52"], 28)) == [0, 0, 0]
    assert overtime_h(worked(["80", "80", "52"], 14)) == [0, 54, 0]
    assert sum(overtime_h(worked(["80", "80", "52"], 28, jurisdiction="us_federal"))) == 92


@pytest.mark.parametrize("kind", ["fire_protection", "law_enforcement"])
@pytest.mark.parametrize("days", [7, 14, 21, 28])
def test_only_what_exceeds_the_maximum_is_overtime(kind: str, days: int) -> None:
    # 29 CFR 553.230: required for hours in excess of the maximum; exactly the maximum is not in excess of it. What is
    # past it falls in the period's last week, and the next period begins anew.
    most, weeks = PUBLISHED[days][kind == "law_enforcement"], days // 7
    each = [str(most // weeks)] * (weeks - 1)
    last = most - (weeks - 1) * (most // weeks)
    assert sum(overtime_h(worked([*each, str(last)], days, kind))) == 0
    assert overtime_h(worked([*each, str(last + 3), "40"], days, kind)) == [0] * (weeks - 1) + [3, 0]


def test_a_period_is_counted_from_the_day_that_the_site_names() -> None:
    # 60 and 60 hours: 14 in excess of 106 where both lie in one period; 60 - 0 and 60 where each lies in its own.
    assert overtime_h(worked(["60", "60"], 14)) == [0, 14]
    assert overtime_h(worked(["60", "60"], 14, begins=SUNDAY - timedelta(days=14 * 40))) == [0, 14]
    assert overtime_h(worked(["60", "60"], 14, begins=SUNDAY + timedelta(days=7))) == [0, 0]


def test_its_step_says_the_maximum_and_the_period() -> None:
    hours = worked(["80", "80"], 14, "law_enforcement")
    (step,) = hours.steps.filter(to_class="overtime").rows(named=True)[:1]
    assert (step["rule"], step["cites"]) == ("us_public_safety.work_period", "29 USC 207(k); 29 CFR 553.230")
    # Twelve hours a day from 06:00 on: the 86th hour of the period is the sixth of the second Sunday.
    assert step["says"] == (
        "past 86 hours in the work period of 14 days from 2026-05-17 12:00 on: overtime until 2026-05-17 18:00"
    )


def test_a_lower_maximum_by_agreement_counts() -> None:
    lower = dated("fire_protection", "By agreement", "h", (date(2026, 1, 1), 200, "agreement, invented"))
    own = {"ours": OwnRules("ours", "us_public_safety", {"work_period": {"fire_protection": lower}})}
    assert overtime_h(worked(["80", "80", "52"], 28, jurisdiction="ours", own=own)) == [0, 0, 12]


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"kind": ""}, "public_safety = one of fire_protection, law_enforcement"),
        ({"days": 0}, "it has none; periods of 7, 14, 21 or 28 days are computed"),
        ({"days": 10}, "work_period_days is 10; periods of 7, 14, 21 or 28 days are computed"),
        ({"begins": None}, "work_period_begins"),
        ({"begins": SUNDAY + timedelta(days=1)}, "on which a workweek begins, as work_period_begins"),
    ],
)
def test_what_a_site_does_not_say_is_asked_for(changed: dict[str, Any], says: str) -> None:
    with pytest.raises(Refusal) as refused:
        worked(["40"], **{"days": 28, **changed})
    assert str(refused.value).startswith("site invented: ")
    assert says in str(refused.value)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(0, 84), min_size=1, max_size=9).filter(any), st.sampled_from([7, 14, 21, 28]))
def test_overtime_is_the_excess_of_each_period(by_week: list[int], days: int) -> None:
    """29 CFR 553.230 over random weeks: what exceeds each period's maximum, and nothing else."""
    weeks = days // 7
    sums = [sum(by_week[first : first + weeks]) for first in range(0, len(by_week), weeks)]
    excess = sum(max(0, hours - PUBLISHED[days][1]) for hours in sums)
    assert sum(overtime_h(worked([str(hours) for hours in by_week], days, "law_enforcement"))) == excess
