"""Names of months and days of the week, against Unicode CLDR as Babel hands it on."""

import re

import pytest
from babel import Locale

from evenhand.layouts.values.months import MONTHS, WEEKDAY_NAMES, unaccented

from .ways import LANGUAGES


def names(of_context, widths):
    for widths_of in of_context.values():
        for width in widths:
            yield from widths_of.get(width, {}).items()


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_month_is_known_by_the_names_that_cldr_gives(language):
    found = [
        (re.sub(r"\.$", "", unaccented(name)), month)
        for month, name in names(Locale(language).months, ("wide", "abbreviated"))
    ]
    assert len(found) >= 48
    assert [(name, MONTHS.get(name)) for name, _ in found] == found


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_day_of_the_week_is_known_by_the_names_that_cldr_gives(language):
    found = [
        (re.sub(r"\.$", "", unaccented(name)), day)
        for day, name in names(Locale(language).days, ("wide", "abbreviated", "short"))
    ]
    assert len(found) >= 28
    for name, day in found:
        assert WEEKDAY_NAMES[name] in (day, None), name


def test_a_word_that_is_two_days_in_two_languages_tells_none():
    seen: dict[str, set[int]] = {}
    for language in LANGUAGES:
        for day, name in names(Locale(language).days, ("wide", "abbreviated", "short")):
            seen.setdefault(re.sub(r"\.$", "", unaccented(name)), set()).add(day)
    doubtful = {name for name, days in seen.items() if len(days) > 1}
    assert doubtful == {name for name, day in WEEKDAY_NAMES.items() if day is None}


def test_no_word_is_two_months():
    seen: dict[str, set[int]] = {}
    for language in LANGUAGES:
        for month, name in names(Locale(language).months, ("wide", "abbreviated")):
            seen.setdefault(re.sub(r"\.$", "", unaccented(name)), set()).add(month)
    assert all(len(months) == 1 for months in seen.values())
