"""Columns that say when: each cell becomes a date's text and a time's text, whatever form they stand in."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.layouts.values.coded import Coded, Codes, Unfit, encode
from evenhand.layouts.values.dates import MIDNIGHT, SERIAL_EPOCH, parse_date, parse_time
from evenhand.terms.zones import DAY_S

__all__ = ["Civil", "Moments", "join_columns", "read_civil", "split_column", "split_moment"]

Seconds = npt.NDArray[np.int64]

COMPACT = re.compile(r"(\d{8})[T ]?(\d{4}(?:\d\d)?(?:Z|[+-]\d\d(?::?\d\d)?)?)$", re.ASCII)
EXTENDED_COMPACT = re.compile(r"(\d{4}-\d\d-\d\d)[T ](\d{4}(?:\d\d)?(?:Z|[+-]\S+)?)$", re.ASCII)
DATE_TIME = re.compile(r"(.*?\w\.?)(?:T|,? +(?:at |um |a las |à )?)(\d{1,2}[:hH]\d\d.*|\d{1,2} ?[ap]\.?m\.?)$", re.I)
DATE_DOTTED_TIME = re.compile(r"(.*?\d\.?),? +(\d{1,2}\.\d\d(?:\.\d\d)?(?: ?[ap]\.?m\.?)?)$", re.I)
TIME_DATE = re.compile(r"(\d{1,2}[:hH]\d\d(?::\d\d)?(?: ?[ap]\.?m\.?)?)[ ,]+(.*\d.*)$", re.I)
SERIAL = re.compile(r"\d{5}[.,]\d+$", re.ASCII)
EPOCH_S = re.compile(r"\d{9,10}(?:\.\d+)?$|\d{13}$", re.ASCII)


@dataclass(frozen=True)
class Moments:
    """A column that says when, still text; row by row the same length in both parts."""

    dates: Coded
    times: Coded


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


def split_column(column: pl.Series) -> Moments:
    """Return the parts of a column that holds date and time in one cell.

    Cells like `2026-11-01 01:30`, whose date takes ten characters, are cut by position; the others one by one.
    """
    column = column.fill_null("")
    heads, tails = encode(column.str.slice(0, 11)), encode(column.str.slice(11))
    head_fits = np.array([len(head) == 10 or (len(head) == 11 and head.endswith("T")) for head in heads.values])
    tail_fits = np.array([re.match(r"\d{1,2}:", tail) is not None for tail in tails.values])
    odd = np.flatnonzero(~(head_fits[heads.codes] & tail_fits[tails.codes])) if column.len() else np.array([], int)
    dates = Coded([head.removesuffix("T") for head in heads.values], heads.codes)
    if not len(odd):
        return Moments(dates, tails)
    others = encode(column.gather(odd))
    parts = [split_moment(text) for text in others.values]
    return Moments(
        _patched(dates, odd, [part[0] for part in parts], others.codes),
        _patched(tails, odd, [part[1] for part in parts], others.codes),
    )


def _patched(coded: Coded, rows: npt.NDArray[np.int64], values: list[str], codes: Codes) -> Coded:
    replaced = coded.codes.copy()
    replaced[rows] = codes + len(coded.values)
    return Coded([*coded.values, *values], replaced)


def join_columns(dates: pl.Series, times: pl.Series) -> Moments:
    """Return the parts of a date column and a time column; a sheet's date may carry its own midnight."""
    day, time = encode(dates), encode(times)
    return Moments(
        Coded([MIDNIGHT.sub("", text) for text in day.values], day.codes),
        Coded([_time_of(text) for text in time.values], time.codes),
    )


def _time_of(text: str) -> str:
    if re.match(r"0?[.,]\d+$", text):  # a part of a day
        return _clock(round(float(text.replace(",", ".")) * DAY_S))
    return text


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
    count = len(moments.times.values)
    second, offset, time_fault = np.zeros(count, np.int64), np.zeros(count, np.int64), np.zeros(count, np.int32)
    for at, text in enumerate(moments.times.values):
        try:
            second[at], offset[at] = parse_time(text)
        except Unfit as unfit:
            reasons.append(str(unfit))
            time_fault[at] = len(reasons)
    dates, times = moments.dates.codes, moments.times.codes
    faults = np.where(day_fault[dates] > 0, day_fault[dates], time_fault[times]).astype(np.int32)
    fractions = any(re.search(r":\d\d[.,]\d*[1-9]", text) for text in moments.times.values)
    return Civil(day[dates] * DAY_S + second[times], offset[times], faults, reasons, fractions)
