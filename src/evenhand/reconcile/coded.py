"""Punches as columns of whole numbers, so that millions are given their owners and put in order without text."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.tables import OWNED

__all__ = ["NOBODY", "Coded", "Codes", "coded", "in_order", "sole_owners"]

Ints = npt.NDArray[np.int64]
Codes = npt.NDArray[np.int32]  # half as wide as an instant: moving millions of them is what takes the time

NOBODY = -1
"""The code of whatever is not listed: a number nobody holds, a reader or a zone that is not known, no owner."""
WAYS = pl.Series(["in", "out"])
WIDEST = 62  # bits of one sorting key, short of the sign


@dataclass(frozen=True)
class Coded:
    """Punches (n,): `number`, `reader` and `zone` index `numbers`, `readers` and `zones`, `people` is by name."""

    punch: Ints
    at: Ints
    number: Codes
    reader: Codes
    zone: Codes
    way: Codes
    numbers: pl.Series
    readers: pl.Series
    zones: pl.Series
    people: pl.Series

    def punch_in(self, wanted: pl.Series) -> npt.NDArray[np.bool_]:
        """Return for each punch whether it is one of those wanted."""
        return pl.Series(self.punch).is_in(wanted.implode()).to_numpy()


def coded(punches: Frame, readers: Frame, spans: Frame, people: Iterable[pl.Series]) -> Coded:
    """Return the punches in codes; `people` are all who may own one, and a reader listed twice is as listed first."""
    listed = readers.unique("reader", keep="first", maintain_order=True)
    numbers, zones = spans["number"].unique().sort(), listed["zone"].unique().sort()
    reader = _codes(punches["reader"], listed["reader"])
    zone_of = np.append(
        _codes(listed["zone"], zones), np.int32(NOBODY)
    )  # the last answers for a reader that is not listed
    return Coded(
        punch=punches["punch"].to_numpy(),
        at=punches["at"].to_numpy(),
        number=_codes(punches["number"], numbers),
        reader=reader,
        zone=zone_of[reader],
        way=_codes(punches["direction"], WAYS),
        numbers=numbers,
        readers=listed["reader"],
        zones=zones,
        people=pl.concat([names.cast(pl.String) for names in people]).unique().sort(),
    )


def _codes(texts: pl.Series, known: pl.Series) -> Codes:
    codes = texts.cast(pl.Enum(known), strict=False).to_physical()
    return codes.cast(pl.Int32).fill_null(NOBODY).to_numpy()


def _places(names: pl.Series, known: pl.Series) -> Codes:
    return known.search_sorted(names).cast(pl.Int32).to_numpy()


def sole_owners(codes: Coded, spans: Frame) -> Codes:
    """Return the person (n,) of the one span of the punch's number and zone that it falls into, else NOBODY.

    Spans of one number and zone do not overlap.
    """
    by_slot = spans.select(
        slot=pl.Series(_codes(spans["number"], codes.numbers) * len(codes.zones) + _codes(spans["zone"], codes.zones)),
        starts="starts",
        ends="ends",
        holder=pl.Series(_places(spans["person"], codes.people)),
    ).sort("slot", "starts")
    slots = by_slot["slot"].to_numpy()
    starts, ends, holder = (by_slot[name].to_numpy() for name in ("starts", "ends", "holder"))
    first = np.searchsorted(slots, np.arange(len(codes.numbers) * len(codes.zones) + 1))
    owner = np.full(len(codes.punch), NOBODY, dtype=np.int32)
    rows = np.flatnonzero((codes.number != NOBODY) & (codes.zone != NOBODY))
    slot = codes.number[rows] * len(codes.zones) + codes.zone[rows]
    span, last = first[slot], first[slot + 1]
    while rows.size:
        there = span < last
        rows, span, last = rows[there], span[there], last[there]
        at = codes.at[rows]
        inside = (starts[span] <= at) & (at < ends[span])
        owner[rows[inside]] = holder[span[inside]]
        # nearly every number has one span, so what is left for a second turn is little
        rows, span, last = rows[~inside], span[~inside] + 1, last[~inside]
    return owner


def in_order(codes: Coded, owner: Codes, added: Frame) -> Frame:
    """Return OWNED by person, time and punch: the punches with an owner, and those `added` (OWNED)."""
    mine = np.flatnonzero(owner != NOBODY)
    nowhere = np.full(added.height, NOBODY, dtype=np.int32)
    person = np.concatenate([owner[mine], _places(added["person"], codes.people)])
    at = np.concatenate([codes.at[mine], added["at"].to_numpy()])
    punch = np.concatenate([codes.punch[mine], added["punch"].to_numpy()])
    order = _order(person, at, punch)

    def ordered(column: Codes, of_added: Codes) -> Codes:
        return np.concatenate([column[mine], of_added])[order]

    return OWNED.frame(
        {
            "punch": punch[order],
            "person": codes.people.gather(person[order]),
            "reader": _texts(codes.readers, ordered(codes.reader, nowhere)),
            "zone": codes.zones.gather(ordered(codes.zone, _codes(added["zone"], codes.zones))),
            "at": at[order],
            "direction": _texts(WAYS, ordered(codes.way, _codes(added["direction"], WAYS))),
        }
    )


def _texts(known: pl.Series, codes: Codes) -> pl.Series:
    return pl.concat([known.cast(pl.String), pl.Series([None], dtype=pl.String)]).gather(codes)


def _order(person: Codes, at: Ints, punch: Ints) -> Ints:
    """Return the order by person, time and punch.

    Person, time and place packed into one whole number each sort ten times as fast as three columns do; where they
    do not fit, the columns are sorted.
    """
    count = len(person)
    if not count:
        return np.empty(0, dtype=np.int64)
    since = int(at.min())
    place_bits = count.bit_length()
    at_bits = (int(at.max()) - since).bit_length()
    if int(person.max()).bit_length() + at_bits + place_bits > WIDEST:
        return np.lexsort((punch, at, person))
    keys = (((person.astype(np.int64) << at_bits) | (at - since)) << place_bits) | np.arange(count)
    keys.sort()
    order = keys & ((1 << place_bits) - 1)
    keys >>= place_bits
    same = keys[1:] == keys[:-1]
    if same.any():
        tied = np.append(same, False) | np.insert(same, 0, False)
        rows = order[tied]
        order[tied] = rows[np.lexsort((punch[rows], keys[tied]))]
    return order
