"""A time read off the clock on the wall is one instant, or is asked about, on any door."""

from __future__ import annotations

from datetime import UTC, datetime, time
from zoneinfo import ZoneInfo

import pytest

from evenhand.terms.records import Refusal
from evenhand.terms.wall_clock import instant_shown, read_time

EASTERN = "America/New_York"
ASK = "write {first} or {second}"


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("16:30", time(16, 30)),
        (" 16:30:05 ", time(16, 30, 5)),
        ("4:30 PM", time(16, 30)),
        ("4:30 p.m.", time(16, 30)),
        ("12:05am", time(0, 5)),
    ],
)
def test_a_time_is_read_as_people_write_it(written: str, meant: time) -> None:
    assert read_time(written) == meant


@pytest.mark.parametrize("written", ["", "half past three", "25:00", "13:00 PM", "4:30 x.m.", "16.30"])
def test_what_is_no_time_says_how_one_is_written(written: str) -> None:
    with pytest.raises(Refusal, match="is no time; write it as 16:30 or 4:30 PM"):
        read_time(written)


def test_clocks_set_back_show_a_time_twice_and_set_forward_never() -> None:
    # On 8 March 2026 clocks in New York went from 02:00 to 03:00, on 1 November 2026 from 02:00 back to 01:00.
    # Source: IANA time zone database, 15 USC 260a; fold as in PEP 495, worked out by zoneinfo.
    twice = datetime(2026, 11, 1, 1, 30)
    for which, fold in (("first", 0), ("second", 1)):
        meant = instant_shown(EASTERN, twice, which, ask=ASK)
        assert meant == twice.replace(tzinfo=ZoneInfo(EASTERN), fold=fold)
        assert meant.astimezone(UTC).hour == 5 + fold
    with pytest.raises(Refusal) as asked:
        instant_shown(EASTERN, twice, ask=ASK)
    assert str(asked.value) == (
        "clocks in America/New_York showed 01:30 twice on Sun 1 Nov 2026; "
        "write 2026-11-01T01:30-04:00 or 2026-11-01T01:30-05:00."
    )
    with pytest.raises(Refusal, match="clocks in America/New_York skipped 02:30 on Sun 8 Mar 2026; give a time that"):
        instant_shown(EASTERN, datetime(2026, 3, 8, 2, 30), ask=ASK)
    # which of two is said of a time that came once, as the forms always do
    once = instant_shown(EASTERN, datetime(2026, 3, 8, 3, 30), "second", ask=ASK)
    assert once == datetime(2026, 3, 8, 7, 30, tzinfo=UTC)
