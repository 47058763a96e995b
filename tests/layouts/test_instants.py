"""Civil times against Python's zoneinfo, and the repeated hour against hand-made logs.

Clock changes used (IANA time zone database): America/Chicago falls back on 2026-11-01 at 02:00 CDT to 01:00 CST
and springs forward on 2026-03-08 at 02:00; Europe/Paris springs forward on 2026-03-29 at 02:00.
"""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.layouts import Layout, SourceFile, read
from evenhand.layouts.values.civil import Civil
from evenhand.layouts.values.coded import Coded
from evenhand.layouts.values.dates import NO_OFFSET
from evenhand.layouts.values.instants import place

CHICAGO, PARIS = "America/Chicago", "Europe/Paris"
LAYOUT = Layout(
    "punches", "delimited", {"reader": ("reader",), "number": ("number",), "at": ("at",)}, delimiter=",", header=1
)


def log(*rows, zones=None):
    text = "reader,number,at\n" + "".join(f"{reader},{number},{at}\n" for reader, number, at in rows)
    return read(SourceFile("log.csv", text.encode()), LAYOUT, zones=zones or {"A": CHICAGO, "B": CHICAGO, "P": PARIS})


def times(*clock, reader="A", day="2026-11-01"):
    return [(reader, "1", f"{day} {at}") for at in clock]


def folds(rows, zone=CHICAGO):
    return [datetime.fromtimestamp(at, ZoneInfo(zone)).fold for at in rows.frame["at"]]


@given(
    st.lists(st.datetimes(datetime(2000, 2, 1), datetime(2059, 11, 30)), min_size=1, max_size=30),
    st.sampled_from([CHICAGO, PARIS, "Australia/Lord_Howe", "Asia/Kathmandu", "America/St_Johns", "Africa/Casablanca"]),
)
@settings(max_examples=80, deadline=None)
def test_civil_times_become_the_instants_that_zoneinfo_says(whens, zone):
    # A time that occurs twice is its first occurrence, as PEP 495 says of fold=0.
    whens = [when.replace(microsecond=0, fold=0) for when in whens]
    # Times near changes matter most: the last Sundays of March and October, and the American ones.
    whens += [datetime(2026, 3, 29, 1, 59), datetime(2026, 11, 1, 1, 30), datetime(2026, 3, 8, 2, 30)]
    local = np.array([(when - datetime(1970, 1, 1)) // timedelta(seconds=1) for when in whens])
    civil = Civil(local, np.full(len(local), NO_OFFSET), np.zeros(len(local), np.int32), [], fractions=False)
    clock = Coded(["A"], np.zeros(len(local), np.int32))
    placed = place(civil, clock, [zone], in_log_order=lambda: False)
    info = ZoneInfo(zone)
    for when, instant, skipped in zip(whens, placed.instants, placed.skipped, strict=True):
        aware = when.replace(tzinfo=info)
        there = datetime.fromtimestamp(int(aware.timestamp()), info).replace(tzinfo=None, fold=0) == when
        assert skipped == (not there)
        if there:
            assert instant == aware.timestamp()


def test_a_time_skipped_in_spring_is_refused_with_its_line():
    rows = log(("P", "1", "2026-03-29 01:30"), ("P", "1", "2026-03-29 02:30"), ("P", "1", "2026-03-29 03:30"))
    assert rows.rejects["line"].to_list() == [3]
    assert PARIS in rows.rejects["reason"][0]
    assert rows.frame["at"][1] - rows.frame["at"][0] == 3600


def test_a_backward_step_parts_the_first_occurrence_from_the_second():
    rows = log(*times("00:50", "01:10", "01:50", "01:05", "01:40", "02:10"))
    assert folds(rows) == [0, 0, 0, 1, 1, 0]
    assert not any("occurs twice" in notice for notice in rows.notices)
    assert rows.frame["at"].is_sorted()


def test_a_log_with_the_newest_row_first_is_read_backwards():
    rows = log(*times("02:10", "01:40", "01:05", "01:50", "01:10", "00:50"))
    assert folds(rows) == [0, 1, 1, 0, 0, 0]


def test_readers_are_settled_one_by_one_though_their_rows_are_mixed():
    rows = log(
        *times("00:50"),
        *times("00:10", reader="B"),
        *times("01:50"),
        *times("01:10", reader="B"),
        *times("01:05"),
        *times("01:20", reader="B"),
        *times("02:05"),
        *times("02:06", reader="B"),
    )
    assert folds(rows) == [0, 0, 0, 0, 1, 0, 0, 0]
    notice = next(notice for notice in rows.notices if "occurs twice" in notice)
    assert "line 5, 7" in notice


def test_a_single_row_keeps_the_first_occurrence_and_is_reported():
    rows = log(*times("01:30"))
    assert folds(rows) == [0]
    assert "line 2" in rows.notices[0]
    assert "2026-11-01 01:30" in rows.notices[0]


def test_two_rows_alone_could_be_a_log_of_either_direction():
    rows = log(*times("01:50", "01:10"))
    assert folds(rows) == [0, 0]
    assert any("occurs twice" in notice for notice in rows.notices)


def test_only_one_direction_fits_two_steps_forward_and_one_back():
    assert folds(log(*times("01:10", "01:50", "01:05", "01:55"))) == [0, 0, 1, 1]


def test_a_file_sorted_by_person_decides_nothing():
    one = times("00:30", "01:40", "02:30", "03:00")
    rows = log(*[(r, str(n), at) for n in range(6) for r, _, at in one])
    assert set(folds(rows)) == {0}
    assert any("occurs twice" in notice for notice in rows.notices)


def test_a_later_instant_before_it_in_the_log_makes_a_row_the_second():
    rows = log(*times("00:50", "01:20-06:00", "01:30", "02:30"))
    assert folds(rows) == [0, 1, 1, 0]
    assert not any("occurs twice" in notice for notice in rows.notices)


def test_an_offset_in_the_row_needs_no_order():
    rows = log(*times("01:30-05:00", "01:30-06:00", "07:30Z"))
    assert folds(rows) == [0, 1, 1]


def test_a_whole_season_is_monotone_through_both_changes():
    start = datetime(2026, 1, 1, tzinfo=ZoneInfo("UTC"))
    instants = [int(start.timestamp()) + 1800 * n for n in range(48 * 365)]
    info = ZoneInfo(CHICAGO)
    walls = [datetime.fromtimestamp(at, info).strftime("%Y-%m-%d %H:%M") for at in instants]
    rows = log(*[("A", "1", wall) for wall in walls])
    # 01:00 and 01:30 of the first occurrence, then a step back to 01:00: everything is decided by order.
    assert rows.frame["at"].to_list() == instants
    assert rows.notices == ()


def test_the_zone_is_the_readers_own():
    rows = log(("A", "1", "2026-01-05 12:00"), ("P", "1", "2026-01-05 12:00"))
    # Chicago is UTC-6 and Paris UTC+1 in January: seven hours apart.
    assert rows.frame["at"][0] - rows.frame["at"][1] == 7 * 3600


@pytest.mark.parametrize("reader", ["Nowhere", "C"])
def test_an_unknown_reader_is_refused_by_name(reader):
    rows = log((reader, "1", "2026-01-05 12:00"), ("A", "1", "2026-01-05 12:00"))
    assert rows.frame.height == 1
    assert reader in rows.rejects["reason"][0]
    assert rows.rejects["line"].to_list() == [2]
