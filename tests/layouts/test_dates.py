from datetime import UTC, date, datetime, timedelta, timezone

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.layouts.values.civil import read_civil
from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.dates import EPOCH, NO_OFFSET, parse_date
from evenhand.layouts.values.moments import split_column, split_moment
from evenhand.layouts.values.times import parse_time


def day(text, order="dmy", **kwargs):
    return date.fromordinal(parse_date(text, order, **kwargs) + EPOCH)


def instant_of(text):
    """Return the civil time and the offset, as our reading of one cell says."""
    civil = read_civil(split_column(pl.Series([text])), "dmy")
    assert not civil.faults[0], civil.reasons
    return int(civil.local[0]), int(civil.offset[0])


@pytest.mark.parametrize(
    ("text", "order"),
    [
        ("2026-03-04", ""),
        ("2026/3/4", ""),
        ("2026.03.04", "mdy"),
        ("20260304", ""),
        ("04/03/2026", "dmy"),
        ("3/4/2026", "mdy"),
        ("4.3.2026", "dmy"),
        ("4.3.26", "dmy"),
        ("26-03-04", "ymd"),
        ("4 March 2026", ""),
        ("4th of March 2026", ""),
        ("March 4, 2026", ""),
        ("Mar 4 2026", ""),
        ("Wed, 4 Mar 2026", ""),
        ("Wednesday, March 4, 2026", ""),
        ("4-Mar-26", ""),
        ("4. März 2026", ""),
        ("Mi 04.03.2026", "dmy"),
        ("miércoles, 4 de marzo de 2026", ""),
        ("mercredi 4 mars 2026", ""),
        ("04MAR2026", ""),
        ("46085", ""),  # ECMA-376: 46085 days after 1899-12-30, since 2026-01-01 is 46023 (common knowledge, by memory)
        ("2026-03-04 00:00:00", ""),
    ],
)
def test_one_day_written_in_many_ways(text, order):
    assert day(text, order) == date(2026, 3, 4)


def test_two_digit_years_follow_posix():
    # POSIX strptime, %y: 69 to 99 are 1969 to 1999, 00 to 68 are 2000 to 2068.
    assert day("01/02/68").year == 2068
    assert day("01/02/69", first_year=1900).year == 1969


@pytest.mark.parametrize("text", ["31/02/2026", "2026-02-29", "4/13/2026", "0001-01-01", "9999-12-31", "1999-12-31"])
def test_days_that_do_not_exist_and_years_out_of_range_are_unfit(text):
    with pytest.raises(Unfit):
        parse_date(text, "dmy")


@pytest.mark.parametrize("text", ["", "n/a", "soon", "2026", "2026-3", "4 Foo 2026", "٤/٣/٢٠٢٦", "1/2/3/4", "99999999"])
def test_what_is_no_date_is_unfit(text):
    with pytest.raises(Unfit):
        parse_date(text, "dmy")


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("07:05", 25_500),  # 7 * 3600 + 5 * 60
        ("7:05", 25_500),
        ("07:05:30", 25_530),
        ("07:05:30.999", 25_530),
        ("7:05 AM", 25_500),
        ("7:05 p.m.", 68_700),  # 19 * 3600 + 5 * 60
        ("7 PM", 68_400),
        ("12:00 AM", 0),
        ("12:30pm", 45_000),  # 12 * 3600 + 30 * 60
        ("19h05", 68_700),
        ("19 h", 68_400),
        ("19.05 Uhr", 68_700),
        ("1905", 68_700),
        ("190530", 68_730),
        ("24:00", 86_400),
        ("24:01", None),
        ("23:60", None),
        ("13:05 PM", None),
        ("7", None),
        ("7:05 CST", None),
    ],
)
def test_times_of_day(text, seconds):
    if seconds is None:
        with pytest.raises(Unfit):
            parse_time(text)
        return
    assert parse_time(text)[:2] == (seconds, NO_OFFSET)


def test_a_zone_abbreviation_is_never_dropped_in_silence():
    with pytest.raises(Unfit, match="CST"):
        parse_time("07:05 CST")


aware = st.datetimes(datetime(2000, 1, 2), datetime(2059, 12, 30)).map(lambda when: when.replace(microsecond=0))
zones = st.integers(-12 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))


@given(aware, zones, st.sampled_from(["T", " "]))
@settings(max_examples=200, deadline=None)
def test_iso_times_with_an_offset_are_read_as_python_reads_them(when, zone, separator):
    text = when.replace(tzinfo=zone).isoformat(separator)
    local, offset = instant_of(text)
    assert local - offset == datetime.fromisoformat(text).timestamp()


@given(aware)
@settings(max_examples=100, deadline=None)
def test_iso_times_without_an_offset_are_read_as_python_reads_them(when):
    for text in (when.isoformat(), when.strftime("%Y%m%dT%H%M%S"), when.isoformat(" ")):
        local, offset = instant_of(text)
        assert offset == NO_OFFSET
        assert datetime(1970, 1, 1) + timedelta(seconds=local) == datetime.fromisoformat(text)


@given(aware)
@settings(max_examples=100, deadline=None)
def test_ways_of_writing_a_moment_agree(when):
    ways = [
        "%d/%m/%Y %H:%M:%S",
        "%d.%m.%Y %I:%M:%S %p",
        "%d %B %Y %H:%M:%S",
        "%B %d, %Y %I:%M:%S %p",
        "%H:%M:%S %d/%m/%Y",
    ]
    texts = [when.strftime(way) for way in ways]
    read = [instant_of(text) for text in texts]
    assert {local for local, _ in read} == {int((when - datetime(1970, 1, 1)).total_seconds())}


def test_a_serial_number_counts_days_from_1899_12_30():
    # ECMA-376 part 1, 18.17.4: 0.25 of a day is 06:00; 2026-03-04 is day 46085.
    assert (date(2026, 3, 4) - date(1899, 12, 30)).days == 46085
    assert split_moment("46085.25") == ("2026-03-04", "06:00:00")


@given(st.lists(st.datetimes(datetime(2001, 1, 2), datetime(2059, 12, 30)), min_size=5, max_size=9, unique=True))
@settings(max_examples=100, deadline=None)
def test_a_column_of_epoch_seconds_is_utc(whens):
    stamps = [int(when.replace(tzinfo=UTC).timestamp()) for when in whens]
    civil = read_civil(split_column(pl.Series(list(map(str, stamps)))), "")
    assert (civil.local - civil.offset).tolist() == stamps


def test_epoch_seconds_and_milliseconds_are_utc():
    # date -u -d @1772607900: 2026-03-04 07:05:00 UTC
    assert split_moment("1772607900") == ("2026-03-04", "07:05:00Z")
    assert split_moment("1772607900123") == ("2026-03-04", "07:05:00Z")


def test_odd_cells_among_ordinary_ones_keep_their_rows():
    cells = ["2026-03-04 07:05:00", "4 March 2026 07:06", "rubbish", "2026-03-04T07:07:00Z", "", "20260304T0708"]
    civil = read_civil(split_column(pl.Series(cells)), "")
    start = parse_date("2026-03-04", "") * 86_400 + 7 * 3600 + 5 * 60
    assert (civil.faults > 0).tolist() == [False, False, True, False, True, False]
    assert (civil.local - start)[np.array([0, 1, 3, 5])].tolist() == [0, 60, 120, 180]


@pytest.mark.parametrize(
    "way", ["%d/%m/%Y %I:%M:%S %p", "%Y%m%dT%H%M%S", "%d-%b-%y %H:%M:%S", "%Y-%m-%dT%H:%M:%SZ", "%B %d, %Y %H:%M:%S"]
)
def test_a_whole_column_is_read_as_its_cells_are(way):
    whens = [datetime(2026, 1, 1) + timedelta(seconds=79_999 * n) for n in range(300)]
    odd = "%m/%Y %I:%M:%S %p" if "%p" in way else "%m/%Y %H:%M:%S"
    texts = [f"{when.day}/{when:{odd}}" if n % 7 == 0 else when.strftime(way) for n, when in enumerate(whens)]
    civil = read_civil(split_column(pl.Series(texts)), "dmy")
    assert not civil.faults.any()
    assert civil.local.tolist() == [int((when - datetime(1970, 1, 1)).total_seconds()) for when in whens]


@pytest.mark.parametrize("text", ["2060-01-01", "1 Jan 2060", "01/02/2100", "1890-01-02"])
def test_a_day_outside_the_years_in_which_days_are_reckoned_is_none(text: str) -> None:
    with pytest.raises(Unfit, match=r"the year \d{4} lies outside 1900 to 2059; correct the date"):
        parse_date(text, "mdy", 1900)
