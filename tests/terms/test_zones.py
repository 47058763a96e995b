"""Civil time against zoneinfo, which reads the same database by other means."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenhand.terms.zones import WEEK_S, civil_date, day_start, instants_at, offsets_of, week_starts

# Zones that move an hour, half an hour, not at all, the other way round, and by an odd quarter.
ZONES = (
    "America/New_York",
    "America/Chicago",
    "Australia/Lord_Howe",
    "America/Phoenix",
    "Europe/Paris",
    "Asia/Kathmandu",
)
INSTANTS = st.integers(
    int(datetime(1995, 1, 1, tzinfo=UTC).timestamp()), int(datetime(2050, 1, 1, tzinfo=UTC).timestamp())
)


@given(st.sampled_from(ZONES), st.lists(INSTANTS, min_size=1, max_size=20))
def test_offsets_are_those_of_zoneinfo(zone: str, instants: list[int]) -> None:
    offsets = offsets_of(zone).at(np.array(instants, dtype=np.int64))
    expected = [datetime.fromtimestamp(instant, ZoneInfo(zone)).utcoffset() for instant in instants]
    assert [timedelta(seconds=int(offset)) for offset in offsets] == expected


@given(st.sampled_from(ZONES), INSTANTS)
def test_a_civil_time_leads_back_to_the_instant_it_was_read_from(zone: str, instant: int) -> None:
    table = offsets_of(zone)
    local = table.to_local(np.array([instant], dtype=np.int64))
    earlier, later, exists = table.from_local(local)
    assert exists[0]
    assert instant in (int(earlier[0]), int(later[0]))
    wall = datetime.fromtimestamp(instant, ZoneInfo(zone))
    assert int(earlier[0]) == int(wall.replace(fold=0).timestamp())
    assert int(later[0]) == int(wall.replace(fold=1).timestamp())


def test_the_hour_skipped_in_spring_does_not_exist() -> None:
    # US clocks go from 02:00 to 03:00 on 2026-03-08: 15 USC 260a(a), second Sunday of March.
    local = np.array([int(datetime(2026, 3, 8, 2, 30, tzinfo=UTC).timestamp())], dtype=np.int64)
    earlier, later, exists = offsets_of("America/New_York").from_local(local)
    assert not exists[0]
    assert earlier[0] == later[0] == int(datetime(2026, 3, 8, 7, 0, tzinfo=UTC).timestamp())


def test_a_time_on_the_wall_has_one_instant_none_or_two() -> None:
    # Source: 15 U.S.C. 260a: clocks advance at 2 a.m. on the second Sunday of March and go back on the first of
    # November; Central time is six hours behind (15 U.S.C. 261), five while advanced.
    def at(hour_utc: int, minute: int, *day: int) -> int:
        return int(datetime(*day, hour_utc, minute, 59, tzinfo=UTC).timestamp())

    chicago = "America/Chicago"
    assert instants_at(chicago, datetime(2026, 3, 8, 1, 59, 59, 700)) == (at(7, 59, 2026, 3, 8),)
    assert instants_at(chicago, datetime(2026, 3, 8, 2, 30, 59)) == ()
    assert instants_at(chicago, datetime(2026, 11, 1, 1, 30, 59)) == (at(6, 30, 2026, 11, 1), at(7, 30, 2026, 11, 1))


def test_a_workweek_over_a_clock_change_has_167_or_169_hours() -> None:
    # 29 CFR 778.105 fixes 168 hours by the civil clock; the change makes one hour more or less elapse.
    for first, hours in ((date(2026, 3, 8), 167), (date(2026, 11, 1), 169), (date(2026, 6, 7), 168)):
        dates, instants = week_starts("America/New_York", 6, 0, first, first)
        assert dates == [first]
        assert (instants[1] - instants[0]) == hours * 3600


@given(st.sampled_from(ZONES), st.integers(0, 6), st.integers(0, 86_399), st.dates(date(2000, 1, 1), date(2049, 1, 1)))
def test_workweeks_cover_every_second_of_the_days_asked_for(zone: str, weekday: int, seconds: int, day: date) -> None:
    dates, instants = week_starts(zone, weekday, seconds, day, day)
    assert instants[0] <= day_start(zone, day)
    assert instants[-1] >= day_start(zone, day + timedelta(days=1))
    assert all(begins.weekday() == weekday for begins in dates)
    assert all(abs(int(length) - WEEK_S) <= 3600 for length in np.diff(instants))


def test_an_unknown_zone_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        offsets_of("Mars/Olympus")


def test_civil_date_follows_the_zone() -> None:
    instant = int(datetime(2026, 11, 2, 4, 30, tzinfo=UTC).timestamp())
    assert civil_date("America/New_York", instant) == date(2026, 11, 1)
    assert civil_date("Europe/Paris", instant) == date(2026, 11, 2)
