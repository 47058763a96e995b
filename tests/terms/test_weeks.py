"""The week of a date is the one that holds it."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from dateutil.relativedelta import FR, MO, SA, SU, TH, TU, WE, relativedelta
from hypothesis import given
from hypothesis import strategies as st

from evenhand.terms.weeks import week_holding, weeks_holding

DAYS = st.dates(date(1991, 1, 1), date(2059, 12, 31))


@given(DAYS, st.integers(0, 6))
def test_the_week_that_holds_a_day_begins_on_the_last_such_weekday(day: date, first: int) -> None:
    # dateutil's own rule: the last Monday, say, on or before the day
    weekday = (MO, TU, WE, TH, FR, SA, SU)[first]
    assert week_holding(day, first) == day + relativedelta(weekday=weekday(-1))


@given(DAYS)
def test_every_week_that_holds_a_day_begins_within_seven_days_up_to_it(day: date) -> None:
    first, last = weeks_holding(day)
    begins = {week_holding(day, weekday) for weekday in range(7)}
    assert begins == {first + timedelta(days=at) for at in range(7)}
    assert (min(begins), max(begins)) == (first, last)


@pytest.mark.parametrize(
    ("day", "first", "begins"),
    [
        (date(2026, 11, 9), 6, date(2026, 11, 8)),  # a Monday, where weeks begin on Sunday: not the Sunday after
        (date(2026, 11, 8), 6, date(2026, 11, 8)),
        (date(2026, 11, 8), 0, date(2026, 11, 2)),
    ],
)
def test_a_monday_lies_in_the_week_that_began_before_it(day: date, first: int, begins: date) -> None:
    assert week_holding(day, first) == begins
