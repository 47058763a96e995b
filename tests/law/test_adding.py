"""A jurisdiction is added as the guide says: one record, one entry in the list, and everything follows from it."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from evenhand.law import find_breaches, find_failing_weeks, pay_laws
from evenhand.law.cutting import Workday
from evenhand.law.jurisdiction import Jurisdiction
from evenhand.law.jurisdictions import JURISDICTIONS
from evenhand.law.limits import DailyLimit, WeeklyLimit
from evenhand.law.recorded import call_back, pairing, repeats
from evenhand.law.us_federal import rest_breaks
from evenhand.terms.parameters import OwnRules, dated
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.records import Citation
from evenhand.terms.settings import SiteRules
from tests.law.weeks import CHICAGO, hours_of, sheet

ACT = (Citation("Hours of Work Act of Northmark, section 7, invented"),)
SINCE = date(2000, 1, 1)
LIMIT = dated("daily_limit", "Hours in a workday", "h", (SINCE, 7, "section 7, invented"))

NORTHMARK = Jurisdiction(
    name="northmark",
    title="Northmark",
    sources="Hours of Work Act, invented",
    rules=(
        repeats.RULE,
        pairing.RULE,
        rest_breaks.RULE,
        Workday("northmark.workday", ACT),
        DailyLimit("northmark.daily", ACT, LIMIT, double=dated("double", "Hours", "h", (SINCE, 10, "invented"))),
        WeeklyLimit("northmark.weekly", ACT, dated("weekly_limit", "Hours in a week", "h", (SINCE, 30, "invented"))),
        call_back.RULE,
    ),
    pay=PayLaw(otherwise="the Wages Act, invented"),
    minimum_wage=dated("minimum_wage", "For every hour", "cent per hour", (SINCE, 300, "the Wages Act, invented")),
)
FIVE_DAYS = [f"2026-03-0{day} {time}" for day in (2, 3, 4, 5, 6) for time in ("06:00 in", "17:00 out")]


@pytest.fixture(autouse=True)
def _listed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(JURISDICTIONS, "northmark", NORTHMARK)


def test_its_limits_class_time_and_each_span_and_step_names_the_rule() -> None:
    # Eleven hours on five days: 7 ordinary, 3 overtime and 1 double a day; of 35 ordinary hours 5 are past 30.
    hours = hours_of(sheet(*FIVE_DAYS), jurisdiction="northmark")
    assert hours.weeks.select("ordinary_s", "overtime_s", "double_s").rows() == [(30 * 3600, 20 * 3600, 5 * 3600)]
    assert set(hours.classed["rule"].drop_nulls()) == {"northmark.daily", "northmark.weekly"}
    assert set(hours.steps["cites"]) == {ACT[0].where}
    assert find_failing_weeks(hours.weeks).is_empty()


def test_a_workplace_may_change_its_numbers() -> None:
    eight = dated("daily_limit", "By agreement", "h", (date(2026, 3, 1), 8, "agreement, invented"))
    own = {"ours": OwnRules("ours", "northmark", {"daily": {"daily_limit": eight}})}
    weeks = hours_of(sheet(*FIVE_DAYS), jurisdiction="ours", own=own).weeks
    assert weeks["double_s"].to_list() == [5 * 3600]
    assert weeks["ordinary_s"].to_list() == [30 * 3600]
    # One day alone shows the eight hours.
    assert hours_of(sheet(*FIVE_DAYS[:2]), jurisdiction="ours", own=own).weeks["ordinary_s"].to_list() == [8 * 3600]


def test_pay_and_limits_follow_from_the_record() -> None:
    law = pay_laws(["northmark"])["northmark"]
    assert law.minimum_wage(date(2026, 3, 2))[0] == Fraction(3)
    assert law.source_of("overtime") == "the Wages Act, invented"
    hours = hours_of(sheet(*FIVE_DAYS), jurisdiction="northmark")
    assert find_breaches(hours.classed, SiteRules("invented", CHICAGO, "northmark")).is_empty()
