"""Columns that say when: each cell becomes a date's text and a time's text, whatever form they stand in."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.layouts.values.coded import Coded, Codes, Unfit, encode, encode_all
from evenhand.layouts.values.dates import MIDNIGHT, NO_OFFSET, SERIAL_EPOCH, parse_date, parse_time
from evenhand.terms.zones import DAY_S

__all__ = ["Civil", "Moments", "join_columns", "read_civil", "split_column", "split_moment"]

Seconds = npt.NDArray[np.int64]

COMPACT = re.compile(r"(\d{8})[T ]?(\d{4}(?:\d\d)?(?:Z|[+-]\d\d(?::?\d\d)?)?)$", re.ASCII)
EXTENDED_COMPACT = re.compile(r"(\d{4}-\d\d-\d\d)[T ](\d{4}(?:\d\d)?(?:Z|[+-]\S+)?)$", re.ASCII)
DATE_TIME = re.compile(r"(.*?\w\.?)(?:T|,? +(?:at |um |a las |à )?)(\d{1,2}[:hH]\d\d.*|\d{1,2} ?[ap]\.?m\.?)$", re.I)
DATE_DOTTED_TIME = re.compile(r"(.*?\d\.?),? +(\d{1,2}\.\d\d(?:\.\d\d)?(?: ?[ap]\.?m\.?)?)$", re.I)
TIME_DATE = re.compile(r"(\d{1,2}[:hH]\d\d(?::\d\d)?(?: ?[ap]\.?m\.?)?)[ ,]+(.*\d.*)$", re.I)
CLOCK = r"^[0-9]{1,2}:"
WHOLE_DATE = r"^(?:[0-9]{1,4}(?:-\w{1,9}-|/\w{1,9}/|\.\w{1,9}\.)[0-9]{2,4}|[0-9]{8})$"
WHOLE_TIME = r"^(?:[0-9]{1,2}[:hH][0-9]{2}|(?:[0-9]{4}|[0-9]{6})(?:$|[Z+-]))"
SERIAL = re.compile(r"\d{5}[.,]\d+$", re.ASCII)
FRACTION = re.compile(r":\d\d[.,]\d*[1-9]")
PLAIN_TIME = r"^([01][0-9]|2[0-3]):([0-5][0-9])(?::([0-5][0-9]))?$"
PART_OF_DAY = r"^0?[.,][0-9]+$"
EPOCH_S = re.compile(r"\d{9,10}(?:\.\d+)?$|\d{13}$", re.ASCII)


@dataclass(frozen=True)
class Moments:
    """A column that says when, still text; row by row the same length in both parts."""

    dates: Coded
    times: Coded

    def are_empty(self) -> npt.NDArray[np.bool_]:
        """Return which rows say neither a date nor a time."""
        empty = [
            np.array([not text for text in part.values], np.bool_)[part.codes] for part in (self.dates, self.times)
        ]
        return empty[0] & empty[1]

    def texts(self, rows: npt.NDArray[np.int64]) -> pl.Series:
        """Return the texts of some rows, date and time parted by a space."""
        return pl.select(
            pl.concat_str(self.dates.texts(rows), self.times.texts(rows), separator=" ").str.strip_chars()
        ).to_series()


@dataclass(frozen=True)
class Civil:
    """Civil times: `local` is seconds since 1970-01-01T00:00 on the wall, `offset` from UTC or `NO_OFFSET` [s].

    `faults` and `reasons` are as in Parsed; `fractions` says that fractions of a second were dropped.
    """

    local: Seconds
    offset: Seconds
    faults: Codes
    reasons: list[str]
    fractions: bool

    def why(self, rows: npt.NDArray[np.int64]) -> pl.Series:
        """Return the reasons of some rows that are faulty."""
        return pl.Series(self.reasons, dtype=pl.String).gather(self.faults[rows] - 1)


def split_column(column: pl.Series) -> Moments:
    """Return the parts of a column that holds date and time in one cell.

    Cells like `2026-11-01 01:30`, whose date takes ten characters, are cut by position; others at their first space;
    what is left, one by one.
    """
    column = column.fill_null("")
    cut = column.to_frame("text").select(head=pl.col("text").str.slice(0, 11), time=pl.col("text").str.slice(11))
    heads, times = encode_all(dict(zip(cut.columns, cut, strict=True))).values()
    ten = np.array([len(head) == 10 or (len(head) == 11 and head.endswith("T")) for head in heads.values], np.bool_)
    moments = Moments(Coded([head.removesuffix("T") for head in heads.values], heads.codes), times)
    odd = np.flatnonzero(~(ten[heads.codes] & _fits(times, CLOCK)))
    if not len(odd):
        return moments
    spaced, left = _split_at_space(column.gather(odd))
    moments = _patched(moments, odd, spaced)
    if not len(left):
        return moments
    others = encode(column.gather(odd[left]))
    parts = [split_moment(text) for text in others.values]
    dates, times = (encode(pl.Series([part[at] for part in parts], dtype=pl.String)) for at in (0, 1))
    split = Moments(Coded(dates.values, dates.codes[others.codes]), Coded(times.values, times.codes[others.codes]))
    return _patched(moments, odd[left], split)


def _split_at_space(column: pl.Series) -> tuple[Moments, npt.NDArray[np.int64]]:
    """Return the cells cut at their first space, and the places of those that are no date and time then.

    Seconds since 1970 and the compact form of ISO 8601 are written out first.
    """
    text = pl.col("text").str.strip_chars()
    whole = pl.col("text").str.contains(r"^\d{10}$")
    epoch = pl.when(whole).then(pl.col("text")).cast(pl.Int64, strict=False)
    written = pl.from_epoch(epoch, time_unit="s").dt.to_string("%Y-%m-%d %H:%M:%SZ")
    spread = text.str.replace(r"^(\d{8})[T ]?(\d{4}|\d{6})(Z|[+-][\d:]+)?$", "$1 $2$3")
    parts = column.to_frame("text").select(written.fill_null(spread).str.splitn(" ", 2).struct.unnest())
    moments = Moments(*encode_all(dict(zip(parts.columns, parts, strict=True))).values())
    fits = _fits(moments.dates, WHOLE_DATE) & _fits(moments.times, WHOLE_TIME)
    return moments, np.flatnonzero(~fits)


def _fits(coded: Coded, pattern: str) -> npt.NDArray[np.bool_]:
    return pl.Series(coded.values, dtype=pl.String).str.contains(pattern).to_numpy()[coded.codes]


def _patched(moments: Moments, rows: npt.NDArray[np.int64], others: Moments) -> Moments:
    """Return `moments` with `others` in the given rows."""

    def patch(coded: Coded, other: Coded) -> Coded:
        every = coded.codes.copy()
        every[rows] = other.codes + len(coded.values)
        # Values that no row holds any more are left out: they would count as dates of the file.
        used, codes = np.unique(every, return_inverse=True)
        values = [*coded.values, *other.values]
        return Coded([values[at] for at in used.tolist()], codes.astype(np.int32))

    return Moments(patch(moments.dates, others.dates), patch(moments.times, others.times))


def join_columns(dates: pl.Series, times: pl.Series) -> Moments:
    """Return the parts of a date column and a time column; a sheet's date may carry its own midnight."""
    day, time = encode_all({"day": dates, "time": times}).values()
    parts = pl.Series(time.values, dtype=pl.String).str.contains(PART_OF_DAY).arg_true()
    clocks = list(time.values)
    for at in parts:
        clocks[at] = _clock(round(float(clocks[at].replace(",", ".")) * DAY_S))
    return Moments(Coded([MIDNIGHT.sub("", text) for text in day.values], day.codes), Coded(clocks, time.codes))


def split_moment(text: str) -> tuple[str, str]:
    """Return the date's text and the time's; serial numbers and epoch seconds are rewritten in ISO 8601."""
    if SERIAL.match(text):
        days = float(text.replace(",", "."))
        seconds = round(days * DAY_S)
        day = datetime.fromordinal(SERIAL_EPOCH) + timedelta(days=seconds // DAY_S)
        return day.date().isoformat(), _clock(seconds % DAY_S)
    if EPOCH_S.match(text):
        whole = int(text[:10]) if len(text) == 13 and text.isdigit() else int(text.split(".", maxsplit=1)[0])
        when = datetime.fromtimestamp(whole, UTC)
        return when.date().isoformat(), when.strftime("%H:%M:%SZ")
    for pattern in (COMPACT, EXTENDED_COMPACT, DATE_TIME, DATE_DOTTED_TIME):
        if found := pattern.match(text):
            return found[1], found[2]
    if found := TIME_DATE.match(text):
        return found[2], found[1]
    return text, ""


def _clock(seconds: int) -> str:
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}"


def read_civil(moments: Moments, order: str, first_year: int = 2000) -> Civil:
    """Return the civil times that `moments` say, numeric dates read in `order`; empty cells are faults too."""
    reasons: list[str] = []
    day, day_fault = np.zeros(len(moments.dates.values), np.int64), np.zeros(len(moments.dates.values), np.int32)
    for at, text in enumerate(moments.dates.values):
        try:
            day[at] = parse_date(text, order, first_year)
        except Unfit as unfit:
            reasons.append(str(unfit))
            day_fault[at] = len(reasons)
    second, offset, time_fault, fractions = _read_times(moments.times.values, reasons)
    dates, times = moments.dates.codes, moments.times.codes
    faults = np.where(day_fault[dates] > 0, day_fault[dates], time_fault[times]).astype(np.int32)
    return Civil(day[dates] * DAY_S + second[times], offset[times], faults, reasons, fractions)


def _read_times(texts: list[str], reasons: list[str]) -> tuple[Seconds, Seconds, Codes, bool]:
    """Return the seconds after midnight, the offsets, the faults and whether fractions were dropped of distinct times.

    What is written as 07:05 or 07:05:00 is read at once, all else one by one. Adds to `reasons`.
    """
    parts = pl.select(pl.lit(pl.Series(texts, dtype=pl.String)).str.extract_groups(PLAIN_TIME).struct.unnest())
    hour, minute, second_of_minute = (parts.to_series(at).cast(pl.Int64) for at in range(3))
    seconds = hour * 3600 + minute * 60 + second_of_minute.fill_null(0)
    second = seconds.fill_null(0).to_numpy().copy()
    offset, fault = np.full(len(texts), NO_OFFSET, np.int64), np.zeros(len(texts), np.int32)
    others = np.flatnonzero(seconds.is_null().to_numpy()).tolist()
    for at in others:
        try:
            second[at], offset[at] = parse_time(texts[at])
        except Unfit as unfit:
            reasons.append(str(unfit))
            fault[at] = len(reasons)
    return second, offset, fault, any(FRACTION.search(texts[at]) for at in others)
