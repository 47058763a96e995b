"""What a column's cells say of days and times of day, read as one column and not cell by cell."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.layouts.values.civil import read_times
from evenhand.layouts.values.coded import Coded, Unfit, encode
from evenhand.layouts.values.dates import MIDNIGHT, ORDERS, parse_date, style_of
from evenhand.layouts.values.moments import join_columns, split_column

__all__ = ["Told", "as_dates", "as_joined", "as_moments", "as_times"]


YEAR = re.compile(r"(?:19|20)\d\d(?:\.0)?$", re.ASCII)
FEW = 3  # years in which a log is written


@dataclass(frozen=True)
class Told:
    """What the cells of a column tell, each kind as the column's most cells are written.

    `days` counts from 1970-01-01, `seconds` from midnight; None where a cell does not tell. `share` is the share of
    the filled cells that do. `is_bare` says that most of them are digits alone, which only a header or another column
    makes a date or a time.
    """

    share: float
    days: list[int | None]
    seconds: list[int | None]
    is_bare: bool


def as_dates(cells: Sequence[str], first_year: int = 1900) -> Told:
    """Return what the cells tell as dates alone, in the order in which most of them are some day."""
    coded = encode(pl.Series(cells, dtype=pl.String))
    days = _days(coded, first_year)
    return _told(coded, days, [None] * coded.height)


def as_times(cells: Sequence[str]) -> Told:
    """Return what the cells tell as times of day alone; a few years are none, though 2026 may be 20:26."""
    coded = encode(pl.Series(cells, dtype=pl.String))
    filled = [cell for cell in cells if cell.strip()]
    years = [cell for cell in filled if YEAR.match(cell.strip())]
    if 2 * len(years) > len(filled) and len(set(years)) <= FEW:
        return _told(coded, [None] * coded.height, [None] * coded.height)
    return _told(coded, [None] * coded.height, _seconds(coded))


def as_moments(cells: Sequence[str], first_year: int = 1900) -> Told:
    """Return what the cells tell as a date and a time of day in one.

    A sheet writes a date with its midnight; only beside other times of day is midnight one of them.
    """
    coded = encode(pl.Series(cells, dtype=pl.String))
    moments = split_column(pl.Series(cells, dtype=pl.String))
    days, seconds = _days(moments.dates, first_year), _seconds(moments.times, is_iso=moments.is_iso)
    whole = [day is not None and second is not None for day, second in zip(days, seconds, strict=True)]
    if not any(is_whole and not MIDNIGHT.search(coded.text(row)) for row, is_whole in enumerate(whole)):
        whole = [False] * len(whole)
    return _told(
        coded,
        [day if is_whole else None for day, is_whole in zip(days, whole, strict=True)],
        [second if is_whole else None for second, is_whole in zip(seconds, whole, strict=True)],
    )


def as_joined(columns: Sequence[Sequence[str]], first_year: int = 1900) -> Told:
    """Return what columns of cells tell together as a date and a time of day, in the order of `columns`."""
    moments = join_columns([pl.Series(cells, dtype=pl.String) for cells in columns])
    days, seconds = _days(moments.dates, first_year), _seconds(moments.times)
    return _told(moments.dates, days, [None if day is None else at for day, at in zip(days, seconds, strict=True)])


def _told(coded: Coded, days: list[int | None], seconds: list[int | None]) -> Told:
    filled = [row for row in range(coded.height) if coded.text(row)]
    kinds = [of for of in (days, seconds) if any(value is not None for value in of)]
    tells = sum(all(of[row] is not None for of in kinds) for row in filled) if kinds else 0
    bare = sum(coded.text(row).removesuffix(".0").isdigit() for row in filled)
    return Told(tells / max(1, len(filled)), days, seconds, 2 * bare > len(filled))


def _days(coded: Coded, first_year: int) -> list[int | None]:
    style = style_of(set(coded.values), first_year)
    best: list[int | None] = []
    for order in ORDERS:
        days: list[int | None] = []
        for text in coded.values:
            try:
                days.append(parse_date(text, order, first_year, style) if text else None)
            except Unfit:
                days.append(None)
        if not best or days.count(None) < best.count(None):
            best = days
    return [best[code] for code in coded.codes.tolist()] if best else []


def _seconds(coded: Coded, *, is_iso: bool = False) -> list[int | None]:
    times = read_times(coded.values, is_iso=is_iso)
    distinct = np.where(times.faults > 0, -1, times.second)[coded.codes].tolist()
    return [None if second < 0 else second for second in distinct]
