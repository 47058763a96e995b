"""Punches under one number at one reader, and the stretches of work they form."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy
from evenhand.terms.stretches import minutes_in_doubt, stretches
from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["Ints", "Strays", "direction_codes", "group_strays"]

Ints = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Strays:
    """Strays as columns; punches stand by stray and time, shifts by stray and time.

    `holder` names whose number it is where the punches are owned but doubted, else ''. `first` and `until` are
    each stray's part of the punches, `shift_first` and `shift_until` its part of the shifts. `minutes` of pay are in
    doubt, an estimate [min].
    """

    name: list[str]
    reader: list[str]
    number: list[str]
    holder: list[str]
    first: Ints
    until: Ints
    punch: Ints
    at: Ints
    day: Ints
    direction: Ints
    of_stray: Ints
    of_shift: Ints
    shift_stray: Ints
    shift_starts: Ints
    shift_ends: Ints
    shift_first: Ints
    shift_until: Ints
    minutes: Ints

    @property
    def size(self) -> int:
        """Return how many strays there are."""
        return len(self.name)


def group_strays(
    punches: Frame, zones: dict[str, str], policy: Policy, *, number_alone: Collection[str] = ()
) -> Strays:
    """Return the strays of `punches` (punch, reader, number, at, direction, holder).

    A reader that compares hands holds one hand under a number, so that all its punches are one person's (common
    practice, no source). At the readers of `number_alone` nobody's hand is compared, anybody can slip at any
    time, and every stretch of work is a stray of its own.
    """
    key = ["reader", "number"]
    alone = pl.col("reader").is_in(list(number_alone))
    ordered = stretches(punches, key, policy).with_columns(
        alone=alone, stray=pl.struct(*key, pl.when(alone).then("stretch")).rle_id().cast(pl.Int64)
    )
    at = ordered["at"].to_numpy().astype(np.int64)
    of_stray = ordered["stray"].to_numpy()
    of_shift = ordered["stretch"].to_numpy() - 1
    direction = direction_codes(ordered["direction"])
    first, shift_at = np.flatnonzero(np.diff(of_stray, prepend=-1)), np.flatnonzero(np.diff(of_shift, prepend=-1))
    until, shift_last = (
        np.append(first[1:], len(at))[: len(first)],
        np.append(shift_at[1:], len(at))[: len(shift_at)] - 1,
    )
    shift_stray = of_stray[shift_at]
    size = len(first)
    heads = ordered[first]
    day = _days(ordered, at, zones)
    return Strays(
        name=[
            f"{reader}/{number}" + (f"/{np.datetime64(int(on), 'D')}" if by_number else "")
            for reader, number, by_number, on in zip(
                heads["reader"].to_list(), heads["number"].to_list(), heads["alone"], day[first], strict=True
            )
        ],
        reader=heads["reader"].to_list(),
        number=heads["number"].to_list(),
        holder=[holder or "" for holder in heads["holder"].to_list()],
        first=first,
        until=until,
        punch=ordered["punch"].to_numpy().astype(np.int64),
        at=at,
        day=day,
        direction=direction,
        of_stray=of_stray,
        of_shift=of_shift,
        shift_stray=shift_stray,
        shift_starts=at[shift_at],
        shift_ends=at[shift_last],
        shift_first=np.searchsorted(shift_stray, np.arange(size)),
        shift_until=np.searchsorted(shift_stray, np.arange(size), side="right"),
        minutes=minutes_in_doubt(ordered, ["stray"], policy)["minutes"].to_numpy(),
    )


def direction_codes(direction: pl.Series) -> Ints:
    """Return 1 for in, -1 for out, 0 where a log does not say."""
    codes = direction.replace_strict({"in": 1, "out": -1}, default=0, return_dtype=pl.Int64)
    return codes.fill_null(0).to_numpy().astype(np.int64)


def _days(ordered: Frame, at: Ints, zones: dict[str, str]) -> Ints:
    """The civil day of each punch at its reader, as days since 1970-01-01."""
    day = np.empty(len(at), dtype=np.int64)
    zone = ordered["reader"].replace_strict(zones, default="UTC", return_dtype=pl.String).to_numpy()
    for name in np.unique(zone):
        here = zone == name
        day[here] = offsets_of(str(name)).to_local(at[here]) // DAY_S
    return day
