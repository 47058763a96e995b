"""Say what rules did, in whole columns: each row its rule's sentence, with the times and durations it names."""

from __future__ import annotations

from collections.abc import Mapping
from string import Formatter
from typing import Any

import numpy as np
import polars as pl

from evenhand.law.site import Site
from evenhand.law.spans import Column

__all__ = ["say"]

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
    parts = []
    for literal, word, _, _ in Formatter().parse(sentence):
        parts.append(pl.lit(literal))
        if word is not None:
            parts.append(_shown(word, words[word], zone, site))
    return pl.select(pl.concat_str(pl.repeat("", len(zone), dtype=pl.String), *parts)).to_series()


def _shown(word: str, value: Any, zone: Column, site: Site) -> pl.Expr:
    if word in INSTANTS:
        return _civil(value, zone, site)
    if word.endswith("_for"):
        return _duration(pl.lit(pl.Series(np.broadcast_to(value, len(zone)))))
    return pl.lit(pl.Series(value) if isinstance(value, np.ndarray) else value).cast(pl.String)


def _civil(instants: Column, zone: Column, site: Site) -> pl.Expr:
    """Return civil times such as `2026-03-06 12:00`, with the seconds where there are any."""
    local = np.empty(len(instants), np.int64)
    for code in np.unique(zone):
        mine = zone == code
        local[mine] = site.offsets_in(int(code)).to_local(instants[mine])
    at = pl.from_epoch(pl.lit(pl.Series(local)), "s")
    return pl.when(at.dt.second() > 0).then(at.dt.to_string("%Y-%m-%d %H:%M:%S")).otherwise(
        at.dt.to_string("%Y-%m-%d %H:%M")
    )  # fmt: skip


def _duration(seconds: pl.Expr) -> pl.Expr:
    hours, minutes = seconds // 3600, seconds // 60 % 60
    return (
        pl.when((hours > 0) & (minutes > 0))
        .then(pl.format("{} h {} min", hours, minutes))
        .when(hours > 0)
        .then(pl.format("{} h", hours))
        .otherwise(pl.format("{} min", minutes))
    )
