"""Columns that say when: each cell becomes a date's text and a time's text, whatever form they stand in."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.layouts.values.coded import Coded, Unfit, encode_all
from evenhand.layouts.values.dates import MIDNIGHT, ORDERS, parse_date
from evenhand.layouts.values.stamps import write_out

__all__ = ["Moments", "is_mark", "join_columns", "split_column", "split_moment"]

CLOCK = r"^[0-9]{1,2}:"
WHOLE_DATE = r"^(?:[0-9]{1,4}(?:-\w{1,9}-|/\w{1,9}/|\.\w{1,9}\.)[0-9]{2,4}|[0-9]{8}|[0-9]{6})$"
WHOLE_TIME = r"^(?:[0-9]{1,2}[:hHuU][0-9]{2}|(?:[0-9]{4}|[0-9]{6})(?:$|[Z+-]))"
ISO_COMPACT = r"^([0-9]{8}|[0-9]{4}-[0-9]{2}-[0-9]{2})T([0-9]{2})([0-9]{2})([0-9]{2})?(Z|[+-][0-9:]+)?$"

# What can be a time of day beside a date: a bare number only where what is left of the cell is a date by itself.
SPACE = "[ \xa0\u202f]"
HALF = rf"(?:{SPACE}?[ap]\.?{SPACE}?m?\.?)"
TIME = (
    rf"[0-9]{{1,2}}(?::| ?[hu] ?)[0-9]{{2}}.*|[0-9]{{1,2}}\.[0-9]{{2}}(?:\.[0-9]{{2}})?(?:{HALF}| ?uhr| ?uur| ?h)?"
    rf"|[0-9]{{1,2}}{HALF}|[0-9]{{1,2}} ?h|(?:[0-9]{{4}}|[0-9]{{6}}){HALF}?(?:Z|[+-][0-9]{{2}}:?[0-9]{{2}})?"
)
AT = r"(?:,? +(?:at |um |a las |a la |as |às |à |alle |om |o |- )?|T)"
DATE_TIME = rf"(?i)^(?P<date>.*?[\w).]\.?){AT}(?P<time>{TIME})$"
TIME_DATE = (
    rf"(?i)^(?P<time>[0-9]{{1,2}}(?::| ?[hu] ?)[0-9]{{2}}(?::[0-9]{{2}})?{HALF}?"
    r"|[0-9]{1,2}\.[0-9]{2}(?:\.[0-9]{2})?)"
    r"[ ,]+(?P<date>.*[0-9].*)$"
)
# The order of ISO C's asctime.
YEAR_LAST = r"^(?P<date>(?:\w+ )?\w+ +[0-9]{1,2}) (?P<time>[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?) (?P<year>[0-9]{4})$"
NO_DAY = r"^(?:1899-12-3[01]|1900-01-0[01])[T ]"  # a sheet's time of day without a date
NUMBER = re.compile(r"\d{5}[.,]\d+$|\d{9,16}(?:\.\d+)?$", re.ASCII)
TEN = re.compile(r"(\d.{8}\d)T?$", re.ASCII)
LEADING_YEAR = re.compile(r"\d{4}-\d\d-\d\d$|(?:19|20)\d{6}$", re.ASCII)
COMPACT = re.compile(ISO_COMPACT)
PATTERNS = tuple(re.compile(pattern) for pattern in (DATE_TIME, TIME_DATE, YEAR_LAST))
PART = r"^(?:[0-9]{1,4}(?:\.0)?|\pL{3,}\.?)$"
MARK = rf"(?i)^[ap](?:\.?{SPACE}?m\.?|\.)?$"


@dataclass(frozen=True)
class Moments:
    """A column that says when, still text; row by row the same length in both parts, which stood in one cell or not."""

    dates: Coded
    times: Coded
    is_one_cell: bool = False

    @property
    def is_iso(self) -> bool:
        """Return whether date and time stand in one cell, and most dates begin with their year, as in ISO 8601."""
        filled = [text for text in self.dates.values if text]
        return self.is_one_cell and 2 * sum(LEADING_YEAR.match(text) is not None for text in filled) > len(filled)

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


def split_column(column: pl.Series) -> Moments:
    """Return the parts of a column that holds date and time in one cell; the time is '' where none is written.

    Cells like `2026-11-01 01:30`, whose date takes ten characters, are cut by position; then what is parted by a space,
    numbers that say both (serial numbers, seconds since 1970, digits without a break), and what is left.
    """
    column = column.fill_null("")
    cut = column.to_frame("text").select(head=pl.col("text").str.slice(0, 11), time=pl.col("text").str.slice(11))
    heads, times = encode_all(dict(zip(cut.columns, cut, strict=True))).values()
    ten = np.array([TEN.match(head) is not None for head in heads.values], np.bool_)
    moments = Moments(Coded([head.removesuffix("T") for head in heads.values], heads.codes), times, is_one_cell=True)
    left = np.flatnonzero(~(ten[heads.codes] & _fits(times, CLOCK)))
    if not len(left):
        return moments
    texts, filled = column.gather(left).str.strip_chars(), int((column != "").sum())
    for split in (_at_space, partial(write_out, filled=filled), _dated_first, _timed_first, _year_last, _undivided):
        dates, clocks, found = split(texts)
        if found.any():
            parts = encode_all({"date": dates.filter(found), "time": clocks.filter(found)})
            moments = _patched(moments, left[found.to_numpy()], Moments(parts["date"], parts["time"]))
        left, texts = left[~found.to_numpy()], texts.filter(~found)
        if not len(left):
            break
    return moments


Split = tuple[pl.Series, pl.Series, pl.Series]  # dates, times, and for which cells they were found


def _at_space(texts: pl.Series) -> Split:
    """Return the cells cut at their first space, the compact forms of ISO 8601 written out before."""
    if (is_compact := texts.str.contains(ISO_COMPACT)).any():
        parts = texts.str.extract_groups(ISO_COMPACT).struct.unnest()
        day, hour, minute, second, offset = (pl.col(str(at)).fill_null("") for at in range(1, 6))
        written = pl.format(
            "{} {}:{}{}{}", day, hour, minute, pl.when(second != "").then(":" + second).otherwise(pl.lit("")), offset
        )
        texts = texts.set(is_compact, None).fill_null(parts.select(written).to_series())
    cut = texts.to_frame("text").select(pl.col("text").str.splitn(" ", 2).struct.unnest())
    dates, times = (cut.to_series(at).fill_null("") for at in (0, 1))
    return dates, times, dates.str.contains(WHOLE_DATE) & times.str.contains(WHOLE_TIME)


def _dated_first(texts: pl.Series) -> Split:
    return _by_pattern(texts, DATE_TIME)


def _timed_first(texts: pl.Series) -> Split:
    return _by_pattern(texts, TIME_DATE)


def _year_last(texts: pl.Series) -> Split:
    return _by_pattern(texts, YEAR_LAST)


def _undivided(texts: pl.Series) -> Split:
    return texts, pl.repeat("", len(texts), eager=True), pl.repeat(True, len(texts), eager=True)


def _by_pattern(texts: pl.Series, pattern: str) -> Split:
    """Return the parts that a pattern names, where what it takes for the date is one."""
    groups = texts.str.extract_groups(pattern).struct.unnest()
    dates, times = groups["date"].fill_null(""), groups["time"].fill_null("")
    if "year" in groups.columns:
        dates = pl.select(pl.format("{} {}", dates, groups["year"].fill_null(""))).to_series()
    known = [text for text in dates.unique() if _is_date(text)]
    return dates, times, dates.is_in(pl.Series(known, dtype=pl.String).implode())


@lru_cache(maxsize=1 << 14)
def _is_date(text: str) -> bool:
    for order in ORDERS:
        try:
            parse_date(text, order, 1900)
        except Unfit:
            continue
        return True
    return False


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

    return replace(moments, dates=patch(moments.dates, others.dates), times=patch(moments.times, others.times))


def join_columns(columns: Sequence[pl.Series]) -> Moments:
    """Return the parts of a date and a time that stand in several columns, in that order.

    A date takes one column or three (such as year, month and day), a time one column or two or three (hour, minute,
    second); a column of marks for the half of the day may stand behind them. A sheet's date may carry its own midnight.
    Raises Unfit where the columns are too few or too many for that.
    """
    *rest, last = columns = [column.fill_null("").str.strip_chars() for column in columns]
    mark = last if rest and _are_mostly(last, MARK) else None
    rest = rest if mark is not None else columns
    if len(rest) == 1:
        return split_column(_joined([*rest, last], " "))
    if len(rest) == 2 and _are_mostly(rest[0], CLOCK) and not _are_mostly(rest[1], CLOCK):
        rest = rest[::-1]
    of_date = 3 if len(rest) > 2 and _are_mostly(rest[0], PART) else 1
    days, clocks = rest[:of_date], rest[of_date:]
    if not 1 <= len(clocks) <= 3:
        raise Unfit("a date takes one column or three, and a time one to three more")
    if len(clocks) > 1:
        # A lone digit is padded; an empty cell is no zero.
        clocks = [clocks[0], *(column.str.replace(r"^([0-9])(?:\.0)?$", "0$1") for column in clocks[1:])]
    times = _joined([column.str.replace(NO_DAY, "") for column in clocks], ":")
    if mark is not None:
        times = _joined([times, mark], " ").str.strip_chars()
    day, time = encode_all({"day": _joined(days, " "), "time": times}).values()
    return Moments(Coded([MIDNIGHT.sub("", text) for text in day.values], day.codes), time)


def is_mark(text: str) -> bool:
    """Return whether a text is a mark for the half of the day, and nothing else."""
    return re.match(MARK, text) is not None


def _joined(columns: Sequence[pl.Series], by: str) -> pl.Series:
    """Return the texts of several columns in one, '' where all of them are empty."""
    if len(columns) == 1:
        return columns[0]
    if len(columns) > 2 or by == ":":
        columns = [column.str.strip_suffix(".0") for column in columns]
    joined = pl.select(pl.concat_str(columns, separator=by)).to_series()
    return joined.set(joined.str.strip_chars(by) == "", "")


def _are_mostly(texts: pl.Series, pattern: str) -> bool:
    filled = texts.filter(texts != "")
    return 2 * int(filled.str.contains(pattern).sum()) > len(filled)


def split_moment(text: str) -> tuple[str, str]:
    """Return the parts of one cell as `split_column` does; serial numbers and epoch seconds are written out."""
    if NUMBER.match(text):
        dates, times, found = write_out(pl.Series([text]))
        return (dates[0], times[0]) if found[0] else (text, "")
    if TEN.match(text[:11].strip()) and text[11:13].strip(":").isdigit() and ":" in text[12:14]:
        return text[:10], text[11:]
    if compact := COMPACT.match(text):
        return compact[1], f"{compact[2]}:{compact[3]}{':' if compact[4] else ''}{compact[4] or ''}{compact[5] or ''}"
    for pattern in PATTERNS:
        if parted := pattern.match(text):
            parts = parted.groupdict()
            day = f"{parts['date']} {parts['year']}" if "year" in parts else parts["date"]
            if _is_date(day):
                return day, parts["time"]
    return text, ""
