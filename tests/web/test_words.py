"""How hours, instants and days are written."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenhand.web import words


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


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
def test_a_spelled_duration_leaves_nothing_out(seconds: int, written: str) -> None:
    assert plain(words.spelled(seconds)) == written


@given(st.integers(0, 10**7))
def test_a_spelled_duration_can_be_read_back(seconds: int) -> None:
    units = {"h": 3600, "min": 60, "s": 1}
    parts = plain(words.spelled(seconds)).replace(",", "").split()
    read = sum(int(amount) * units[unit] for amount, unit in zip(parts[::2], parts[1::2], strict=True))
    assert read == seconds


@pytest.mark.parametrize(("seconds", "written"), [(420, "+ 7 min"), (-420, "\u2212 7 min"), (0, "0 min")])
def test_a_change_says_its_sign(seconds: int, written: str) -> None:
    assert plain(words.signed(seconds)) == written


def test_a_clock_shows_seconds_only_where_there_are_any() -> None:
    # 2026-03-02T12:53:00Z is 07:53 in New York, five hours behind before 8 March 2026.
    assert words.clock(1_772_455_980, "America/New_York") == "07:53"
    assert words.clock(1_772_455_987, "America/New_York") == "07:53:07"


def test_a_span_of_days_names_the_month_once() -> None:
    assert plain(words.span_of_days(date(2026, 3, 1), date(2026, 3, 14))) == "Sun 1 to Sat 14 Mar 2026"
    assert plain(words.span_of_days(date(2026, 3, 29), date(2026, 4, 4))) == "Sun 29 Mar to Sat 4 Apr 2026"
    assert plain(words.span_of_days(date(2025, 12, 28), date(2026, 1, 3))) == "Sun 28 Dec 2025 to Sat 3 Jan 2026"


@pytest.mark.parametrize(
    ("seconds", "written"), [(1800, "30 min ago"), (7200, "2 h ago"), (3 * 86400, "3 days ago"), (-18000, "in 5 h")]
)
def test_how_long_ago_is_rough(seconds: int, written: str) -> None:
    assert plain(words.ago(seconds)) == written


def test_a_name_in_an_address_cannot_end_the_address() -> None:
    assert words.in_path("Dock 2/3?x#y") == "Dock%202/3%3Fx%23y"
