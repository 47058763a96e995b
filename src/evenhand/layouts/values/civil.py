"""Civil times: what the texts of a column that says when mean on the wall, before any zone."""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.layouts.values.coded import Codes, Unfit
from evenhand.layouts.values.dates import NO_OFFSET, parse_date, style_of
from evenhand.layouts.values.moments import Moments
from evenhand.layouts.values.times import TimeStyle, parse_time, time_style_of
from evenhand.terms.zones import DAY_S

__all__ = ["Civil", "Seconds", "TimesOfDay", "read_civil", "read_times"]

Seconds = npt.NDArray[np.int64]

FRACTION = re.compile(r":\d\d[.,]\d*[1-9]")
PLAIN_TIME = r"^([0-9]{1,2}):([0-5][0-9])(?::([0-5][0-9]))?(?: ?([AaPp])\.?[ \xa0\x{202f}]?[Mm]\.?)?$"
BARE_TIME = r"^([0-9]{2})([0-5][0-9])([0-5][0-9])?()$"
LEAST = 8  # rows, from which on seconds that are all zero are no accident


@dataclass(frozen=True)
class Civil:
    """Civil times: `local` is seconds since 1970-01-01T00:00 on the wall, `offset` from UTC or `NO_OFFSET` [s].

    `faults` and `reasons` are as in Parsed; `fractions` says that fractions of a second were dropped, `to_minute` that
    the file does not write seconds: no time has them, or all of eight or more are zero.
    """

    local: Seconds
    offset: Seconds
    faults: Codes
    reasons: list[str]
    fractions: bool
    to_minute: bool = False

    def why(self, rows: npt.NDArray[np.int64]) -> pl.Series:
        """Return the reasons of some rows that are faulty."""
        return pl.Series(self.reasons, dtype=pl.String).gather(self.faults[rows] - 1)


@dataclass(frozen=True)
class TimesOfDay:
    """Distinct texts as times of day: seconds after midnight, offsets from UTC [s], and faults as in Parsed.

    `fractions` says that fractions of a second were dropped, `has_seconds` that seconds are written at all.
    """

    second: Seconds
    offset: Seconds
    faults: Codes
    reasons: list[str]
    fractions: bool
    has_seconds: bool


def read_civil(moments: Moments, order: str, first_year: int = 2000, last_year: int = 0) -> Civil:
    """Return the civil times that `moments` say, numeric dates read in `order`; empty cells are faults too."""
    read = read_times(moments.times.values, is_iso=moments.is_iso, days=len(moments.dates.values))
    reasons = list(read.reasons)
    day, day_fault = np.zeros(len(moments.dates.values), np.int64), np.zeros(len(moments.dates.values), np.int32)
    style = style_of(set(moments.dates.values), first_year, last_year)
    for at, text in enumerate(moments.dates.values):
        try:
            day[at] = parse_date(text, order, first_year, style)
        except Unfit as unfit:
            reasons.append(str(unfit))
            day_fault[at] = len(reasons)
    dates, times = moments.dates.codes, moments.times.codes
    faults = read.faults[times] if read.reasons else np.zeros(len(times), np.int32)
    if day_fault.any():
        of_date = day_fault[dates]
        faults = np.where(of_date > 0, of_date, faults)
    local = (day * DAY_S)[dates]
    local += read.second[times]
    is_sound = faults == 0
    # Days are whole minutes, so the distinct times tell of all rows.
    tells_seconds = (read.second % 60 > 0)[times]
    are_zero = int(is_sound.sum()) >= LEAST and not bool((tells_seconds & is_sound).any())
    to_minute = not read.has_seconds or are_zero
    states_offset = bool((read.offset != NO_OFFSET).any())
    offset = read.offset[times] if states_offset else np.broadcast_to(np.int64(NO_OFFSET), len(times))
    return Civil(local, offset, faults, reasons, read.fractions, to_minute)


def read_times(texts: list[str], *, is_iso: bool = False, days: int = 1) -> TimesOfDay:
    """Return the distinct texts of a column of times as times of day, as most of them are written.

    `is_iso` and `days` are as in `time_style_of`. What is written as 07:05, 07:05:00,
    7:05 AM, 0705 or 070500 is read at once, all else one by one.
    """
    style = time_style_of(set(texts), is_iso=is_iso, days=days)
    seconds, has_seconds = _plain_times(pl.Series(texts, dtype=pl.String), style)
    second = seconds.fill_null(0).to_numpy().copy()
    offset, faults = np.full(len(texts), NO_OFFSET, np.int64), np.zeros(len(texts), np.int32)
    reasons: list[str] = []
    others = np.flatnonzero(seconds.is_null().to_numpy()).tolist()
    for at in others:
        try:
            second[at], offset[at], writes = parse_time(texts[at], style)
        except Unfit as unfit:
            reasons.append(str(unfit))
            faults[at] = len(reasons)
        else:
            has_seconds = has_seconds or writes
    fractions = any(FRACTION.search(texts[at]) for at in others)
    return TimesOfDay(second, offset, faults, reasons, fractions, has_seconds)


def _plain_times(texts: pl.Series, style: TimeStyle) -> tuple[pl.Series, bool]:
    """Return the seconds after midnight of times in a plain form, null for others, and whether any has seconds."""
    pattern = PLAIN_TIME
    if style.form in ("four", "six"):
        pattern, length = BARE_TIME, 4 if style.form == "four" else 6
        texts = texts.set(texts.str.len_bytes() != length, "")
    parts = texts.str.extract_groups(pattern).struct.unnest()
    hour, minute, second = (pl.col(at).cast(pl.Int64) for at in "123")
    half = pl.col("4").str.to_lowercase().fill_null("")
    of_twelve = hour.is_between(1, 12)
    is_plain = (half != "") & of_twelve | (half == "") & (hour < 24) & ~(of_twelve & pl.lit(style.has_halves))
    hours = pl.when(half == "").then(hour).otherwise(hour % 12 + 12 * (half == "p").cast(pl.Int64))
    seconds = pl.when(is_plain).then(hours * 3600 + minute * 60 + second.fill_null(0))
    found = parts.select(seconds=seconds, has_seconds=is_plain & second.is_not_null())
    return found["seconds"], bool(found["has_seconds"].any())
