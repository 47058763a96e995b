"""How hours, instants, days, counts and lists are written."""

from __future__ import annotations

import tomllib
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenhand.terms import words
from evenhand.terms.rules_told import rules_in_words
from evenhand.terms.settings import SiteRules
from evenhand.terms.zones import offsets_of

# 2026-03-02T12:53:00Z is 07:53 in New York, five hours behind before 8 March 2026.
AT, ZONE = 1_772_455_980, "America/New_York"


@pytest.mark.parametrize(
    ("seconds", "written"),
    [
        (0, "0 min"),
        (5, "5 s"),
        (60, "1 min"),
        (72, "1 min 12 s"),
        (3600, "1 h"),
        (3612, "1 h 00 min 12 s"),
        (29112, "8 h 05 min 12 s"),
        (4_500_000, "1,250 h"),
    ],
)
def test_a_duration_leaves_nothing_out(seconds: int, written: str) -> None:
    assert words.as_duration(seconds) == written


@given(st.integers(0, 10**7))
def test_a_duration_can_be_read_back(seconds: int) -> None:
    units = {"h": 3600, "min": 60, "s": 1}
    parts = words.as_duration(seconds).replace(",", "").split()
    read = sum(int(amount) * units[unit] for amount, unit in zip(parts[::2], parts[1::2], strict=True))
    assert read == seconds


@pytest.mark.parametrize(("seconds", "written"), [(420, "+ 7 min"), (-420, "\u2212 7 min"), (0, "0 min")])
def test_a_change_says_its_sign(seconds: int, written: str) -> None:
    assert words.as_change(seconds) == written


def test_a_table_of_hours_drops_the_seconds_and_a_table_of_figures_keeps_them() -> None:
    assert (words.as_hours(29_159), words.as_figures(29_112), words.as_figures(29_100)) == ("8 h 05", "8:05:12", "8:05")
    assert [words.signed_figures(seconds) for seconds in (420, -420, 0)] == ["+0:07", "\u22120:07", ""]


def test_a_clock_shows_seconds_only_where_there_are_any() -> None:
    assert words.as_clock(AT, ZONE) == "07:53"
    assert words.as_clock(AT + 7, ZONE) == "07:53:07"


def test_a_clock_that_is_set_back_tells_its_two_hours_apart() -> None:
    # clocks went back from 02:00 to 01:00 on 1 November 2026, 06:00 UTC (Energy Policy Act of 2005, sec. 110)
    first = int(datetime(2026, 11, 1, 5, 30, tzinfo=UTC).timestamp())
    assert words.as_clock(first, ZONE) == "01:30 EDT"
    assert words.as_clock(first + 3600, ZONE) == "01:30 EST"


def test_a_clock_that_is_named_tells_its_zone_on_every_day() -> None:
    assert words.as_clock(AT, "America/New_York", is_named=True) == f"{words.as_clock(AT, 'America/New_York')} EST"
    # a zone without letters of its own has its offset; zones: IANA time zone database
    assert words.as_clock(AT, "America/Sao_Paulo", is_named=True).endswith(" -03")
    first = int(datetime(2026, 11, 1, 5, 30, tzinfo=UTC).timestamp())
    assert words.as_clock(first, "America/New_York", is_named=True) == "01:30 EDT"


def test_the_letters_stand_all_day_on_a_day_of_change_and_on_no_other() -> None:
    noon = int(datetime(2026, 11, 1, 17, tzinfo=UTC).timestamp())
    told = [words.as_clock(noon + 86_400 * days, ZONE) for days in (-1, 0, 1)]
    assert told == ["13:00", "12:00 EST", "12:00"]
    assert words.as_moment(noon, ZONE) == "Sun 1 Nov 2026, 12:00 EST"
    sao_tome = int(datetime(2018, 1, 1, 12, tzinfo=UTC).timestamp())
    assert words.as_clock(sao_tome, "Africa/Sao_Tome") == "13:00 WAT"


@pytest.mark.parametrize("zone", [ZONE, "America/Havana", "Asia/Beirut", "Australia/Lord_Howe", "Europe/Paris", "UTC"])
def test_letters_and_the_table_of_changes_name_the_same_days(zone: str) -> None:
    """Clocks of some zones change at midnight, forward to 01:00 or back to 23:00."""
    begin = datetime(2025, 1, 1, 12, tzinfo=ZoneInfo(zone))
    days = [begin + timedelta(days=day) for day in range(730)]
    lettered = {(day.date() - date(1970, 1, 1)).days for day in days if words.zone_letters(day)}
    first = (begin.date() - date(1970, 1, 1)).days
    assert lettered == {int(day) for day in offsets_of(zone).days_of_change if first <= day < first + 730}
    assert len(lettered) == (0 if zone == "UTC" else 4)


def test_a_moment_is_told_alike_from_seconds_and_from_a_datetime() -> None:
    told = "Mon 2 Mar 2026, 07:53"
    assert words.as_moment(AT, ZONE) == words.as_moment(datetime.fromtimestamp(AT, UTC), ZONE) == told
    assert words.as_zoned_moment(AT, ZONE) == f"{told} ({ZONE})"
    assert words.as_short_moment(AT + 7, ZONE) == "Mon 2 Mar, 07:53:07"


def test_a_span_of_days_names_the_month_once() -> None:
    assert words.as_span_of_days(date(2026, 3, 1), date(2026, 3, 14)) == "Sun 1 to Sat 14 Mar 2026"
    assert words.as_span_of_days(date(2026, 3, 29), date(2026, 4, 4)) == "Sun 29 Mar to Sat 4 Apr 2026"
    assert words.as_span_of_days(date(2025, 12, 28), date(2026, 1, 3)) == "Sun 28 Dec 2025 to Sat 3 Jan 2026"
    assert words.as_long_day(date(2026, 3, 4)) == "Wednesday 4 March 2026"
    assert words.as_day_of_year(date(2026, 3, 4)) == "4 March"


@pytest.mark.parametrize(
    ("seconds", "written"), [(1800, "30 min ago"), (7200, "2 h ago"), (3 * 86400, "3 days ago"), (-18000, "in 5 h")]
)
def test_how_long_ago_is_rough(seconds: int, written: str) -> None:
    assert words.ago(seconds) == written


def test_pay_of_nothing_is_not_pay_that_is_not_known() -> None:
    assert [words.as_pay(amount) for amount in (Decimal(0), Decimal("12.5"), None)] == ["0.00", "12.50", "not known"]


def test_counts_lists_and_names_are_told() -> None:
    assert words.counted(1, "punch", "punches") == "1 punch"
    assert words.counted(1200, "punch", "punches") == "1,200 punches"
    assert [words.listed(["a", "b", "c", "d"][:many], most=3) for many in range(5)] == [
        "none",
        "a",
        "a and b",
        "a, b and c",
        "a, b, c and 1 more",
    ]
    assert (words.called("Ana Ruiz", "P1"), words.called(None, "P1")) == ("Ana Ruiz (P1)", "P1")


def test_a_sites_rules_are_told_in_one_line() -> None:
    rules = SiteRules("Mill", ZONE, workweek_day=0, workweek_s=6 * 3600, rounding_s=900)
    assert rules_in_words(rules) == (
        "us_federal, workweek from Monday 06:00 America/New_York, times each punch to the nearest 15 minutes"
    )


@pytest.mark.parametrize("value", ['quoted "so"', "tab\tand\\", "\x7f and \u00e9", "\x00\n", 12, ["a", "b"], []])
def test_a_value_written_for_a_toml_file_is_read_back_as_it_was(value: str | int | list[str]) -> None:
    assert tomllib.loads(f"key = {words.as_toml(value)}")["key"] == value
