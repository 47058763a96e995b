"""Say what rules did, in whole columns: each row its rule's sentence, with the times and durations it names."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, datetime, timedelta
from string import Formatter
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import polars as pl

from evenhand.law.site import Site
from evenhand.law.spans import Column
from evenhand.terms.words import zone_letters
from evenhand.terms.zones import DAY_S

__all__ = ["say"]

TIMES = pl.Series([f" {hour:02}:{minute:02}" for hour in range(24) for minute in range(60)])
SECONDS = pl.Series(["", *(f":{second:02}" for second in range(1, 60))])

INSTANTS = frozenset({"was", "now"})
"""Words that are instants, shown as civil time at the reader; words that end in `_for` are seconds."""


def say(says: tuple[str, ...], reason: Column, words: Mapping[str, Any], zone: Column, site: Site) -> pl.Series:
    """Return a sentence a row: that of its `reason`, filled with `words`, instants in the `zone` of the row."""
    said = pl.repeat("", len(reason), dtype=pl.String, eager=True)
    for number in np.unique(reason):
        rows = np.flatnonzero(reason == number)
        here = {word: value[rows] if isinstance(value, np.ndarray) else value for word, value in words.items()}
        said = said.scatter(rows, _filled(says[number], here, zone[rows], site))
    return said


def _filled(sentence: str, words: Mapping[str, Any], zone: Column, site: Site) -> pl.Series:
    parts: list[pl.Series | str] = []
    for literal, word, _, _ in Formatter().parse(sentence):
        parts.append(literal)
        if word is not None:
            parts += _shown(word, words[word], zone, site)
    rows = pl.repeat("", len(zone), dtype=pl.String)
    return pl.select(pl.concat_str(rows, *(pl.lit(part) for part in parts))).to_series()


def _shown(word: str, value: Any, zone: Column, site: Site) -> list[pl.Series | str]:
    """Return what a word is shown as, in parts: texts looked up, since the same few come again and again."""
    if word in INSTANTS:
        return _civil(value, zone, site)
    if word.endswith("_for"):
        minutes = value // 60
        return [_looked_up(minutes, _duration) if isinstance(value, np.ndarray) else _duration(minutes)]
    return [pl.Series(value).cast(pl.String) if isinstance(value, np.ndarray) else str(value)]


def _civil(instants: Column, zone: Column, site: Site) -> list[pl.Series | str]:
    """Return civil times such as `2026-03-06 12:00`, with the seconds where there are any.

    On a day whose offset changes the zone's letters follow, as in `2026-11-01 01:30 EST`.
    """
    local = np.empty(len(instants), np.int64)
    letters = np.full(len(instants), "", dtype=object)
    for code in np.unique(zone):
        mine, offsets = zone == code, site.offsets_in(int(code))
        local[mine] = offsets.to_local(instants[mine])
        days = local // DAY_S
        for row in np.flatnonzero(mine & np.isin(days, offsets.days_of_change)):
            letters[row] = zone_letters(datetime.fromtimestamp(int(instants[row]), ZoneInfo(offsets.zone)))
    second = local % DAY_S
    return [
        _looked_up(local // DAY_S, _day),
        TIMES.gather(second // 60),
        SECONDS.gather(second % 60),
        pl.Series(letters, dtype=pl.String),
    ]


def _looked_up(values: Column, written: Callable[[int], str]) -> pl.Series:
    if not len(values):
        return pl.Series(dtype=pl.String)
    least, most = int(values.min()), int(values.max())
    return pl.Series([written(value) for value in range(least, most + 1)]).gather(values - least)


def _day(day: int) -> str:
    return (date(1970, 1, 1) + timedelta(days=day)).isoformat()


def _duration(minutes: int) -> str:
    hours, minutes = divmod(minutes, 60)
    return f"{hours} h {minutes} min" if hours and minutes else f"{hours} h" if hours else f"{minutes} min"
