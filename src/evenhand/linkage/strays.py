"""Punches under one number at one reader, and the stretches of work they form."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy
from evenhand.terms.stretches import minutes_of, stretches
from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["Ints", "StrayColumns", "direction_codes", "group_strays"]

Ints = npt.NDArray[np.int64]


@dataclass(frozen=True)
class StrayColumns:
    """Strays as columns; punches stand by stray and time, stretches of work by stray and time.

    `holder` names whose number it is where the punches are attributed but doubted. `first` and `until` are each
    stray's part of the punches, `stretch_first` and `stretch_until` its part of the stretches. `minutes` of pay are in
    doubt, an estimate [min]. Days count from 1970-01-01.
    """

    name: pl.Series
    reader: pl.Series
    number: pl.Series
    holder: pl.Series
    first: Ints
    until: Ints
    punch: Ints
    at: Ints
    day: Ints
    direction: Ints
    of_stray: Ints
    of_stretch: Ints
    stretch_stray: Ints
    stretch_starts: Ints
    stretch_ends: Ints
    stretch_first: Ints
    stretch_until: Ints
    minutes: Ints

    @property
    def size(self) -> int:
        """Return how many strays there are."""
        return len(self.first)

    @property
    def first_day(self) -> Ints:
        """Return the civil day of each stray's first punch."""
        return self.day[self.first]

    @property
    def last_day(self) -> Ints:
        """Return the civil day of each stray's last punch."""
        return self.day[self.until - 1]

    @property
    def shift_day(self) -> Ints:
        """Return for each punch the civil day on which its stretch of work began: days of employment bound shifts."""
        begins = np.searchsorted(self.of_stretch, np.arange(len(self.stretch_stray)))
        return self.day[begins][self.of_stretch]

    def keys(self) -> Frame:
        """Return reader, number and place (`stray`) of each stray, to be joined with what is known of numbers."""
        return pl.select(reader=self.reader, number=self.number, stray=pl.int_range(self.size, dtype=pl.Int64))


def group_strays(punches: Frame, zones: Mapping[str, str], policy: Policy) -> StrayColumns:
    """Return the strays of `punches` (punch, reader, number, at, direction, holder).

    A reader that compares hands holds one hand under a number, so that all its punches are one person's (common
    practice, no source).
    """
    key = ["reader", "number"]
    parted = stretches(punches, key, policy).with_columns(
        day=_days(zones), stray=pl.struct(key).rle_id().cast(pl.Int64)
    )
    of_stray, of_stretch = parted["stray"].to_numpy(), parted["stretch"].to_numpy() - 1
    first, stretch_at = np.flatnonzero(np.diff(of_stray, prepend=-1)), np.flatnonzero(np.diff(of_stretch, prepend=-1))
    at = parted["at"].to_numpy()
    stretch_stray = of_stray[stretch_at]
    size = len(first)
    heads = parted[first]
    return StrayColumns(
        name=heads["reader"] + "/" + heads["number"],
        reader=heads["reader"],
        number=heads["number"],
        holder=heads["holder"].cast(pl.String),
        first=first,
        until=np.append(first[1:], len(at))[:size],
        punch=parted["punch"].to_numpy(),
        at=at,
        day=parted["day"].to_numpy(),
        direction=direction_codes(parted["direction"]),
        of_stray=of_stray,
        of_stretch=of_stretch,
        stretch_stray=stretch_stray,
        stretch_starts=at[stretch_at],
        stretch_ends=at[np.append(stretch_at[1:], len(at))[: len(stretch_at)] - 1],
        stretch_first=np.searchsorted(stretch_stray, np.arange(size)),
        stretch_until=np.searchsorted(stretch_stray, np.arange(size), side="right"),
        minutes=minutes_of(parted, ["stray"], policy)["minutes"].to_numpy(),
    )


def direction_codes(direction: pl.Series) -> Ints:
    """Return 1 for in, -1 for out, 0 where a log does not say."""
    comes, leaves = ((direction == way).fill_null(value=False).cast(pl.Int64) for way in ("in", "out"))
    return (comes - leaves).to_numpy()


def _days(zones: Mapping[str, str]) -> pl.Expr:
    """The civil day of each punch at its reader, as days since 1970-01-01; by UTC where the reader is not listed."""
    zone = pl.col("reader").replace_strict(dict(zones), default="UTC", return_dtype=pl.String)

    def of_zone(rows: pl.Series) -> pl.Series:
        name, at = rows.struct.field("zone")[0], rows.struct.field("at").to_numpy()
        return pl.Series(offsets_of(name).to_local(at) // DAY_S, dtype=pl.Int64)

    placed = pl.struct(zone=zone, at="at")
    return placed.map_batches(of_zone, return_dtype=pl.Int64).over(zone)
