"""Times of day: each text by itself, and the one decision over a column's texts."""

from datetime import datetime, timedelta
from random import Random
from zoneinfo import ZoneInfo, available_timezones

import numpy as np
import polars as pl
import pytest
from openpyxl.utils.datetime import from_excel

from evenhand.layouts.values.civil import read_civil, read_times
from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.dates import EPOCH, NO_OFFSET
from evenhand.layouts.values.kinds import as_dates, as_moments, as_times
from evenhand.layouts.values.moments import join_columns, split_column
from evenhand.layouts.values.times import OFFSETS, parse_time, time_style_of

from .ways import DAY_S, seconds_on_the_wall


def column(*texts):
    """Return the seconds after midnight of a column's times, None for those that are refused."""
    times = read_times(list(texts))
    return [None if fault else int(second) for second, fault in zip(times.second, times.faults, strict=True)]


def at(hour, minute, second=0):
    return hour * 3600 + minute * 60 + second


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        # ISO 8601-1:2019, 5.3: complete and reduced, extended and basic; the beginning and the end of a day
        ("23:20:50", at(23, 20, 50)),
        ("232050", at(23, 20, 50)),
        ("23:20", at(23, 20)),
        ("2320", at(23, 20)),
        ("T2320", at(23, 20)),
        ("00:00:00", 0),
        ("24:00:00", DAY_S),
        ("240000", DAY_S),
        ("2400", DAY_S),
        # clocks of twelve hours: 12 AM begins the day, 12 PM is noon (NIST, Times of Day FAQs)
        ("12:00 AM", 0),
        ("12:00 PM", at(12, 0)),
        ("12:59 a.m.", at(0, 59)),
        ("12:01P", at(12, 1)),
        ("7:05 a. m.", at(7, 5)),
        ("7:05 p.\xa0m.", at(19, 5)),
        ("0705A", at(7, 5)),
        ("705P", at(19, 5)),
        ("11 PM", at(23, 0)),
        ("12 noon", at(12, 0)),
        ("12:00 noon", at(12, 0)),
        ("12 midnight", 0),
        ("7.05 uur", at(7, 5)),
        ("13h", at(13, 0)),
        ("13h30", at(13, 30)),
        ("13 h 30", at(13, 30)),
        ("13u30", at(13, 30)),
        ("7 u 05", at(7, 5)),
        ("13h30m15s", at(13, 30, 15)),
        # beyond the format
        ("25:00", None),
        ("24:00:01", None),
        ("2460", None),
        ("236060", None),
        ("0:05 AM", None),
        ("13:00 noon", None),
        ("noon", None),
        ("7", None),
        ("7:5", None),
        ("7:05-08:30 Uhr", None),
        ("1905262", None),
        ("19.10.2026", None),
        ("-07:05", None),
        ("7:05 XM", None),
    ],
)
def test_times_of_day(text, seconds):
    assert column(text) == [seconds]
    if seconds is None:
        with pytest.raises(Unfit):
            parse_time(text)
    else:
        assert parse_time(text)[:2] == (seconds, NO_OFFSET)


@pytest.mark.parametrize(
    ("text", "offset"),
    [
        # ISO 8601-1:2019, 5.3.4: time shifts from UTC
        ("23:20:30Z", 0),
        ("232030Z", 0),
        ("15:27:46+01:00", 3600),
        ("152746+0100", 3600),
        ("15:27:46-05", -5 * 3600),
        ("07:05 UTC", 0),
        ("07:05 GMT+2", 7200),
        ("07:05:00\u221203:30", -3.5 * 3600),
        ("07:05", NO_OFFSET),
    ],
)
def test_offsets(text, offset):
    assert parse_time(text).offset == offset


@pytest.mark.parametrize(
    ("text", "instant"),
    [
        # RFC 3339, section 5.8, and the instants it says they are
        ("1985-04-12T23:20:50.52Z", datetime(1985, 4, 12, 23, 20, 50)),
        ("1996-12-19T16:39:57-08:00", datetime(1996, 12, 20, 0, 39, 57)),
        ("1937-01-01T12:00:27.87+00:20", datetime(1937, 1, 1, 11, 40, 27)),
        # ISO 8601-1:2019, 5.4.2: basic format
        ("19850412T101530Z", datetime(1985, 4, 12, 10, 15, 30)),
        ("19850412T101530+0400", datetime(1985, 4, 12, 6, 15, 30)),
        ("19850412T1015+04", datetime(1985, 4, 12, 6, 15)),
    ],
)
def test_published_moments(text, instant):
    civil = read_civil(split_column(pl.Series([text])), "", first_year=1900)
    assert not civil.faults[0], civil.reasons
    assert civil.local[0] - civil.offset[0] == seconds_on_the_wall(instant)


def test_a_leap_second_is_refused_for_no_civil_clock_here_counts_it():
    civil = read_civil(split_column(pl.Series(["1990-12-31T23:59:60Z"])), "", first_year=1900)  # RFC 3339, 5.8
    assert civil.faults[0]


STRPTIME = [
    "%Y-%m-%d %H:%M:%S", "%Y%m%d %H%M%S", "%Y%m%d%H%M%S", "%Y%m%dT%H%M%S", "%d.%m.%Y %H:%M:%S", "%d/%m/%Y %I:%M:%S %p",
    "%d %b %Y %H:%M:%S", "%d%b%y %H%M%S", "%b %d, %Y %I:%M:%S %p", "%a %b %d %H:%M:%S %Y", "%A, %d %B %Y %H:%M:%S",
    "%H:%M:%S %d/%m/%Y", "%d-%b-%Y %H.%M.%S", "%d.%m.%y, %Hh%Mm%S", "%Y/%m/%d %H:%M:%S",
]  # fmt: skip


@pytest.mark.parametrize("way", STRPTIME)
def test_strptime_reads_the_same(way):
    draw = Random(way)
    texts = [
        (datetime(2020, 1, 1) + timedelta(seconds=draw.randrange(6 * 366 * DAY_S))).strftime(way) for _ in range(200)
    ]
    civil = read_civil(split_column(pl.Series(texts)), "dmy")
    assert not civil.faults.any(), civil.reasons
    assert civil.local.tolist() == [seconds_on_the_wall(datetime.strptime(text, way)) for text in texts]


def test_serial_numbers_are_the_moments_that_openpyxl_reads():
    draw = Random(3)
    serials = [round(draw.uniform(36_600, 55_000), 8) for _ in range(500)]
    civil = read_civil(split_column(pl.Series([repr(serial) for serial in serials])), "")
    assert not civil.faults.any()
    read = [seconds_on_the_wall(from_excel(serial)) for serial in serials]
    assert max(abs(civil.local - read)) <= 1  # openpyxl keeps milliseconds and cuts, we round to the second
    commas = read_civil(split_column(pl.Series([repr(serial).replace(".", ",") for serial in serials])), "")
    assert commas.local.tolist() == civil.local.tolist()


def test_a_whole_serial_number_among_others_is_its_midnight():
    civil = read_civil(split_column(pl.Series(["46314.29542", "46315", "46315.70833"])), "")
    assert not civil.faults.any()
    assert (civil.local % DAY_S).tolist() == [at(7, 5, 24), 0, at(17, 0)]


def test_a_serial_number_that_a_sheet_shortened_is_refused():
    shortened = read_civil(split_column(pl.Series(["46314.295", "46314.7083", "46315.29"])), "")
    assert shortened.faults.all()
    assert "shortened" in shortened.why(np.array([0]))[0]
    whole = read_civil(split_column(pl.Series(["46314.25", "46314.75", "46315.5"])), "")
    assert (whole.local % DAY_S).tolist() == [at(6, 0), at(18, 0), at(12, 0)]


# ---- one decision over a column


def test_a_column_of_four_digits_reads_no_stray_of_six():
    assert column("0705", "1530", "191026", "2359") == [at(7, 5), at(15, 30), None, at(23, 59)]


def test_a_column_of_six_digits_reads_no_stray_of_four():
    assert column("070500", "153000", "235959", "0705") == [at(7, 5), at(15, 30), at(23, 59, 59), None]


def test_numbers_from_a_sheet_get_the_zeros_back_that_it_took():
    assert column("705", "1530", "5", "45", "2359") == [at(7, 5), at(15, 30), at(0, 5), at(0, 45), at(23, 59)]
    assert column("70533", "153000", "533", "235959") == [at(7, 5, 33), at(15, 30), at(0, 5, 33), at(23, 59, 59)]


def test_where_zeros_are_kept_a_short_number_is_refused():
    assert column("0705", "1530", "75", "705") == [at(7, 5), at(15, 30), None, None]


def test_digits_among_times_with_a_colon_are_refused():
    assert column("07:05", "15:30", "1905", "16:00") == [at(7, 5), at(15, 30), None, at(16, 0)]


def test_a_point_parts_hour_and_minute_only_where_it_does_so_in_most_times():
    assert column("7.05", "15.30", "0.45") == [at(7, 5), at(15, 30), at(0, 45)]
    assert column("07:05", "15:30", "7.05") == [at(7, 5), at(15, 30), None]


def test_parts_of_a_day_are_told_from_hours_and_minutes_with_a_point():
    assert column("0.25", "0.6458333333333334", "0") == [at(6, 0), at(15, 30), 0]
    assert column("0,25", "0,375", "0,5") == [at(6, 0), at(9, 0), at(12, 0)]
    assert column("0.25", "0.45") == [None, None]  # either 06:00 or 00:25


def test_a_part_of_a_day_that_a_sheet_shortened_is_refused():
    assert column("0.295", "0.646", "0.7083") == [None, None, None]


def test_stray_digits_among_written_dates_are_refused():
    told = as_dates(["19.10.2026", "20.10.2026", "21.10.2026", "22.10.2026", "191026", "46314", "40326"])
    assert [day is None for day in told.days] == [False] * 4 + [True] * 3


def test_a_date_whose_zero_is_missing_is_refused_where_the_others_keep_theirs():
    told = as_dates(["091026", "101026", "41026"])
    assert [day is None for day in told.days] == [False, False, True]


def test_hours_up_to_twelve_need_their_mark_where_the_others_have_one():
    assert column("7:05 AM", "3:30 PM", "4:00", "13:00") == [at(7, 5), at(15, 30), None, at(13, 0)]


def test_a_date_is_no_time_and_a_time_no_date():
    civil = read_civil(split_column(pl.Series(["19.10.26", "191026", "2026-10-19", "19 Oct 2026", "07:05"])), "dmy")
    assert civil.faults.all()
    assert any("no time of day is written" in reason for reason in civil.reasons)


@pytest.mark.parametrize("text", ["19 10 2026", "2026 10 19", "Oct 19 2026", "19 Oct 2026", "19. 10. 2026", "19 1026"])
def test_no_time_is_taken_out_of_a_date(text):
    assert read_civil(split_column(pl.Series([text])), "dmy").faults.all()


def test_no_time_is_taken_out_of_a_range():
    assert column("07:05-15:30") == [None]


def test_what_numbers_say_in_two_ways_is_refused():
    # 14 October 2026 07:05, or seconds since 1970: one number alone does not tell, three do.
    one = read_civil(split_column(pl.Series(["1410260705"])), "dmy")
    assert one.faults.all()
    three = read_civil(split_column(pl.Series(["1410260705", "1410261530", "1510260702"])), "dmy")
    assert three.local.tolist() == [
        seconds_on_the_wall(datetime(2026, 10, day, hour, minute))
        for day, hour, minute in ((14, 7, 5), (14, 15, 30), (15, 7, 2))
    ]


def test_a_stray_number_among_written_moments_is_refused():
    texts = [f"2026-10-{day} 07:05" for day in range(10, 20)]
    civil = read_civil(split_column(pl.Series([*texts, "1792393533", "46314.29542", "20261019070533"])), "")
    assert (civil.faults > 0).tolist() == [False] * 10 + [True] * 3


# ---- several columns


def joined(*columns, order="dmy"):
    civil = read_civil(join_columns([pl.Series(column) for column in columns]), order)
    return [None if fault else int(local) for local, fault in zip(civil.local, civil.faults, strict=True)]


WHENS = [datetime(2026, 10, 19, 7, 5), datetime(2026, 3, 4, 15, 30)]
MEANT = [seconds_on_the_wall(when) for when in WHENS]


@pytest.mark.parametrize(
    "columns",
    [
        (["19.10.2026", "04.03.2026"], ["07:05", "15:30"]),
        (["191026", "40326"], ["705", "1530"]),
        (["07:05", "15:30"], ["19.10.2026", "04.03.2026"]),
        (["2026-10-19 00:00:00", "2026-03-04 00:00:00"], ["1899-12-30 07:05:00", "1899-12-30 15:30:00"]),
        (["46314", "46085"], ["0.2951388888888889", "0.6458333333333334"]),
        (["19.10.2026", "04.03.2026"], ["7:05", "3:30"], ["AM", "PM"]),
        (["19.10.2026 7:05", "04.03.2026 3:30"], ["a.m.", "p.m."]),
        (["19.10.2026", "04.03.2026"], ["7", "15"], ["5", "30"]),
        (["2026", "2026"], ["10", "3"], ["19", "4"], ["7:05", "15:30"]),
        (["2026", "2026"], ["10", "3"], ["19", "4"], ["7", "15"], ["5", "30"]),
        (["19", "4"], ["Oct", "Mar"], ["2026", "2026"], ["7", "15"], ["5", "30"], ["0", "0"]),
        (["2026.0", "2026.0"], ["10.0", "3.0"], ["19.0", "4.0"], ["7.0", "15.0"], ["5.0", "30.0"]),
        (["19", "4"], ["10", "3"], ["26", "26"], ["705", "1530"]),
        (["2026", "2026"], ["10", "3"], ["19", "4"], ["7", "3"], ["05", "30"], ["AM", "PM"]),
    ],
)
def test_a_moment_in_several_columns(columns):
    assert joined(*columns) == MEANT


def test_a_missing_part_is_no_zero():
    assert joined(["2026", "2026"], ["10", "3"], ["19", "4"], ["7", "15"], ["5", ""]) == [MEANT[0], None]
    assert joined(["19.10.2026", "04.03.2026"], ["7:05", "3:30"], ["AM", ""]) == [MEANT[0], None]


def test_year_month_and_day_alone_are_refused():
    with pytest.raises(Unfit):
        join_columns([pl.Series(["2026"]), pl.Series(["10"]), pl.Series(["19"])])


# ---- whether seconds are written


@pytest.mark.parametrize(
    ("texts", "to_minute"),
    [
        (["07:05"], True),
        (["0705", "1530"], True),
        (["07:05:00"] * 8, True),
        (["07:05:00"] * 7, False),  # seven zeros may be an accident
        (["07:05:00"] * 20 + ["07:05:01"], False),
        (["7:05 AM", "8:10 PM"], True),
    ],
)
def test_whether_a_file_writes_seconds(texts, to_minute):
    moments = join_columns([pl.Series(["2026-10-19"] * len(texts)), pl.Series(texts)])
    assert read_civil(moments, "").to_minute == to_minute


# ---- what a column's cells tell


def test_what_a_column_of_cells_tells():
    dates = as_dates(["19.10.26", "04.03.26", "", "x"])
    assert (dates.share, dates.is_bare) == (2 / 3, False)
    assert dates.days == [
        datetime(2026, 10, 19).toordinal() - EPOCH,
        datetime(2026, 3, 4).toordinal() - EPOCH,
        None,
        None,
    ]
    times = as_times(["0705", "1530", "191026"])
    assert (times.seconds, times.is_bare) == ([at(7, 5), at(15, 30), None], True)
    moments = as_moments(["20261019070533", "20260304153000"])
    assert (moments.share, moments.seconds, moments.is_bare) == (1.0, [at(7, 5, 33), at(15, 30)], True)


def test_midnight_alone_is_how_a_sheet_writes_a_date():
    assert as_moments(["2026-10-19 00:00:00", "2026-10-20 00:00:00"]).share == 0
    assert as_moments(["2026-10-19 00:00:00", "2026-10-20 07:05:00"]).share == 1


def test_a_style_is_decided_by_most_texts_and_not_by_their_order():
    texts = ["0705", "1530", "191026", "07:05"]
    assert {time_style_of(texts[n:] + texts[:n]).form for n in range(4)} == {"four"}


@pytest.mark.parametrize("span", ["22:00-06:00", "2200-0600", "09:00\u221205:00", "08:00-12:00"])
def test_a_span_of_two_times_is_no_time_with_an_offset(span):
    assert column(span) == [None]
    assert column(span, "06:00-14:00", "14:00-22:00") == [None] * 3
    assert as_times([span]).share == 0


def test_offsets_are_believed_where_the_column_says_so():
    # A plus, seconds or UTC tell; what does not tell by itself is read as most of the column is.
    assert column("07:05:00-06:00") == column("07:05-06:00", "07:06:00-06:00", "07:07:00-06:00")[:1] == [at(7, 5)]
    assert column("07:05+01:00") == column("07:05 UTC-6") == [at(7, 5)]
    assert column("07:05+01:00", "22:00-06:00", "14:00-06:00") == [None] * 3
    assert column("07:05+14:00", "07:05+14:15", "07:05+01:60") == [at(7, 5), None, None]


def local_times(*texts):
    """Return the seconds since 1970 in UTC of date and time in one cell, None for those that are refused."""
    civil = read_civil(split_column(pl.Series(texts)), "dmy")
    return [
        None if fault else int(local - offset)
        for local, offset, fault in zip(civil.local, civil.offset, civil.faults, strict=True)
    ]


def test_an_offset_without_seconds_is_believed_behind_an_iso_date_where_it_is_in_use():
    # Python's own reading of ISO 8601.
    expected = int(datetime.fromisoformat("2026-11-01 22:00-06:00").timestamp())
    assert local_times("2026-11-01 22:00-06:00") == local_times("20261101T2200-0600") == [expected]
    assert local_times("01.11.2026 22:00-06:00") == [None]
    # Nowhere is it 14 hours before UTC: these are shifts, and so is the third.
    assert local_times("2026-11-01 06:00-14:00", "2026-11-01 14:00-22:00", "2026-11-01 22:00-06:00") == [None] * 3
    many = [f"2026-11-01 22:{at:02}-{at:02}:00" for at in range(1, 10)]
    assert local_times(*many) == [None] * 9  # more offsets than a file has
    assert None not in local_times(*many[:8])


def test_behind_quarter_hours_alone_what_looks_like_an_offset_ends_a_shift():
    shifts = [f"2026-06-{day} {start}:00-{end}:00" for day in (13, 14) for start, end in (("22", "06"), ("18", "03"))]
    assert local_times(*shifts) == [None] * 4
    nights = [f"2026-06-{day} 22:00-06:00" for day in range(13, 20)]
    assert local_times(*nights) == [None] * 7  # the same shift on every day
    assert None not in local_times(*nights, "2026-06-20 07:30Z")
    punches = [f"2026-06-13 22:0{minute}-06:00" for minute in range(4)]
    assert None not in local_times(*punches)


def test_every_offset_in_use_since_2000_is_known_as_one():
    # The time zone database of the IANA, by Python's zoneinfo.
    days = [datetime(year, month, 15) for year in range(2000, 2027) for month in range(1, 13)]
    seen = {
        day.replace(tzinfo=zone).utcoffset() // timedelta(minutes=1)
        for zone in map(ZoneInfo, available_timezones())
        for day in days
    }
    assert seen <= OFFSETS


def test_digits_of_two_lengths_without_zeros_are_left_open():
    # As a sheet writes 01:38:45 and 00:20:06, or 20:06 and a slip.
    assert column("13845", "2006") == [None, None]
    assert column("13845", "2006", "0705", "1531") == [None, at(20, 6), at(7, 5), at(15, 31)]
    assert column("13845", "2006", "1705", "1531", "1532")[1:3] == [at(20, 6), at(17, 5)]
    assert column("13845", "153100", "2006") == [at(1, 38, 45), at(15, 31), at(0, 20, 6)]
