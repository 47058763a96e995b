"""Cells that say date and time in one number: seconds since 1970, serial numbers, digits without a break.

Sources: POSIX.1-2017, 4.16 (seconds since the Epoch); ECMA-376 part 1, 18.17.4 (serial numbers, the 1900 system);
ISO 8601-1:2019 (YYYYMMDD and hhmmss without marks between).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import polars as pl

from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.dates import EPOCH, ORDERS, SERIAL_EPOCH, SERIALS, DateStyle, parse_date
from evenhand.layouts.values.times import COARSE, TimeStyle, is_exact, parse_time

__all__ = ["write_out"]

SERIAL = r"^([0-9]{5})(?:[.,]([0-9]+))?$"
BARE = r"^[0-9]{9,16}(?:\.[0-9]+)?$"
EPOCHS = {10: 1, 13: 1_000, 16: 1_000_000}  # digits of a number that counts from 1970, and its parts of a second
FIRST_EPOCH, LAST_EPOCH = 978_307_200, 2_840_140_800  # [s] 2001 to 2060
SEEN = 200  # distinct texts that are tried
CERTAIN = 3  # distinct texts, from which on what all of them fit by a form that few numbers fit is no accident
MOST = 0.8  # of the texts, that fit what a column's texts are


@dataclass(frozen=True)
class _Digits:
    """Digits without a break: so many of the date, then so many of the time."""

    date: int
    time: int

    def fits(self, text: str) -> bool:
        """Return whether a text, a leading zero given back, is a date and a time in any order."""
        whole = text.zfill(self.date + self.time)
        day, clock = whole[: self.date], whole[self.date :]
        try:
            parse_time(clock, TimeStyle("four" if self.time == 4 else "six"))
        except Unfit:
            return False
        return any(_is_date(day, order, DateStyle(self.date)) for order in ORDERS)


def _is_date(text: str, order: str, style: DateStyle) -> bool:
    try:
        parse_date(text, order, 2000, style)
    except Unfit:
        return False
    return True


FORMS = {14: (_Digits(8, 6),), 12: (_Digits(8, 4), _Digits(6, 6)), 10: (_Digits(6, 4),)}


def write_out(texts: pl.Series, filled: int = 1) -> tuple[pl.Series, pl.Series, pl.Series]:
    """Return the dates, the times, and for which cells they were found; one decision over all of them.

    `texts` are cells of a column that has `filled` cells which are not empty: where most of those are no such
    numbers, none is.
    """
    nothing = pl.repeat("", len(texts), eager=True)
    for find in (_serials, _numbers):
        if (found := find(texts, filled)) is not None:
            return found
    return nothing, nothing, pl.repeat(False, len(texts), eager=True)


def _serials(texts: pl.Series, filled: int) -> tuple[pl.Series, pl.Series, pl.Series] | None:
    """Return serial numbers as ISO dates and times, where most cells are such with a fraction.

    A whole number among them is its midnight.
    """
    parts = texts.str.extract_groups(SERIAL).struct.unnest()
    whole, decimals = parts.to_series(0), parts.to_series(1)
    if 2 * int(decimals.is_not_null().sum()) < filled:
        return None
    is_serial = whole.cast(pl.Int64).is_between(SERIALS.start, SERIALS.stop - 1).fill_null(value=False)
    if not is_exact(decimals.filter(is_serial).drop_nulls().unique(), COARSE):
        return None  # refused, cell by cell, as a number that a sheet shortened
    days = texts.set(~is_serial, "0").str.replace(",", ".", literal=True).cast(pl.Float64)
    return _clocks(((days + (SERIAL_EPOCH - EPOCH)) * 86_400).round().cast(pl.Int64), "", is_serial)


def _numbers(texts: pl.Series, filled: int) -> tuple[pl.Series, pl.Series, pl.Series] | None:
    """Return numbers of nine to sixteen digits as dates and times, where most cells are such."""
    is_bare = texts.str.contains(BARE)
    if 2 * int(is_bare.sum()) < max(1, filled):
        return None
    distinct = texts.filter(is_bare).unique(maintain_order=True)
    length = distinct.str.replace(r"\..*", "").str.len_bytes()
    usual = int(length.mode().max())  # type: ignore[arg-type]
    tried = distinct.filter(length == usual)[:SEEN].to_list()
    keeps_zeros = any(text.startswith("0") for text in tried)
    likely: list[tuple[float, _Digits | int]] = []
    for size, forms in FORMS.items():
        if usual == size or (usual == size - 1 and not keeps_zeros):
            likely += [(share, form) for form in forms if (share := _share(tried, form.fits)) >= MOST]
    # Few numbers are a date and a time by accident; every number counts seconds from 1970.
    if usual in EPOCHS and (len(tried) < CERTAIN or not likely):
        likely.append((_share(tried, lambda text: _is_epoch(text, EPOCHS[usual])), EPOCHS[usual]))
    best = max((share for share, _ in likely), default=0.0)
    chosen = [form for share, form in likely if share > best - 0.1 and share >= MOST]
    if len(chosen) != 1:
        return None
    form = chosen[0]
    if isinstance(form, int):
        counted = texts.set(~is_bare, None).str.replace(r"\..*", "").cast(pl.Int64) // form
        return _clocks(counted.fill_null(0), "Z", (counted.is_between(FIRST_EPOCH, LAST_EPOCH)).fill_null(value=False))
    size = form.date + form.time
    lengths = texts.str.len_bytes()
    found = is_bare & lengths.is_between(size if keeps_zeros else size - 1, size)
    spread = texts.str.zfill(size)
    return spread.str.slice(0, form.date), spread.str.slice(form.date, form.time), found


def _share(texts: list[str], fits: Callable[[str], bool]) -> float:
    return sum(map(fits, texts)) / len(texts)


def _is_epoch(text: str, parts: int) -> bool:
    return FIRST_EPOCH <= int(text.split(".", maxsplit=1)[0]) // parts <= LAST_EPOCH


def _clocks(seconds: pl.Series, zone: str, found: pl.Series) -> tuple[pl.Series, pl.Series, pl.Series]:
    when = pl.from_epoch(seconds, time_unit="s")
    return when.dt.to_string("%Y-%m-%d"), when.dt.to_string(f"%H:%M:%S{zone}"), found
