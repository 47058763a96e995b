"""Days that somebody types, held to how Unicode's CLDR writes them."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from babel.dates import format_date

from evenhand.terms.likeness.days_said import days_said

TODAY = date(2026, 3, 9)
DAYS = [date(2025, 7, 31) + timedelta(days=29 * step) for step in range(8)]


@pytest.mark.parametrize("day", DAYS)
@pytest.mark.parametrize("locale", ["en_US", "en_GB", "en_CA", "en_AU"])
@pytest.mark.parametrize("form", ["medium", "long", "full"])
def test_a_day_is_read_as_cldr_writes_it_in_english(day: date, locale: str, form: str) -> None:
    # Source: the patterns of Unicode CLDR, https://cldr.unicode.org, by Babel.
    written = format_date(day, form, locale).replace(" at", "")
    assert days_said(written, TODAY) == ((day,), "")


def test_a_day_that_can_be_read_both_ways_is_both() -> None:
    # https://www.w3.org/International/questions/qa-date-format: 03/04/02 is read as three different days.
    assert days_said("3/4/2026", TODAY)[0] == (date(2026, 3, 4), date(2026, 4, 3))
    assert days_said("13/4/2026", TODAY)[0] == (date(2026, 4, 13),)
    assert days_said("4.4.2026", TODAY)[0] == (date(2026, 4, 4),)


def test_what_stands_beside_a_day_is_kept_and_what_is_no_day_is_left() -> None:
    assert days_said("quill 2026-03-04 ines", TODAY) == ((date(2026, 3, 4),), "quill ines")
    for text in ("2026-02-30", "4103", "may quill", "31/31/2026", "", "12-34"):
        assert days_said(text, TODAY) == ((), text)


def test_a_day_without_its_year_is_the_last_such_day() -> None:
    assert days_said("4 Mar", TODAY)[0] == (date(2026, 3, 4),)
    assert days_said("december 24", TODAY)[0] == (date(2025, 12, 24),)
    assert days_said("29 feb", TODAY)[0] == ()
