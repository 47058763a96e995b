"""The numbers that ship are those of the law."""

from __future__ import annotations

from datetime import date

from evenhand.law.jurisdictions import JURISDICTIONS


def test_federal_overtime_begins_past_forty_hours() -> None:
    # 29 USC 207(a)(1)
    assert JURISDICTIONS["us_federal"].numbers["us_federal.overtime"]["weekly_limit"].on(date(2026, 1, 1)) == 40


def test_the_regulation_names_three_increments() -> None:
    # 29 CFR 785.48(b): the nearest 5 minutes, one-tenth or quarter of an hour
    increments = JURISDICTIONS["us_federal"].numbers["us_federal.rounding"]["increments"]
    assert increments.on(date(2026, 1, 1)) == (5 * 60, 6 * 60, 15 * 60)
