"""Punches as columns of whole numbers, so that millions are attributed and put in order without text."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.tables import ATTRIBUTED

__all__ = ["UNKNOWN", "CodedPunches", "Codes", "coded", "codes_of", "in_order", "sole_owners", "with_added"]

Ints = npt.NDArray[np.int64]
Codes = npt.NDArray[np.int32]  # half as wide as an instant: moving millions of them is what takes the time

UNKNOWN = -1
"""The code of whatever is not listed: a number nobody holds, a reader or a zone that is not known, nobody."""
NEVER = 2**62
WAYS = pl.Series(["in", "out"])
WIDEST = 62  # bits of one sorting key, short of the sign


@dataclass(frozen=True)
class CodedPunches:
    """Punches (n,): `reader`, `zone` and `way` index `readers`, `zones` and WAYS."""

    punch: Ints
    at: Ints
    reader: Codes
    zone: Codes
    way: Codes
    readers: pl.Series
    zones: pl.Series
    people: pl.Series

    def punch_in(self, wanted: pl.Series) -> npt.NDArray[np.bool_]:
        """Return for each punch whether it is one of those wanted."""
        return pl.Series(self.punch).is_in(wanted.implode()).to_numpy()


def coded(punches: Frame, readers: Frame, people: Iterable[pl.Series]) -> CodedPunches:
    """Return the punches in codes; `people` are all whose one may be, and a reader listed twice is as listed first."""
    listed, zones, reader, zone = _placed(punches, readers)
    return CodedPunches(
        punch=punches["punch"].to_numpy(),
        at=punches["at"].to_numpy(),
        reader=reader,
        zone=zone,
        way=codes_of(punches["direction"], WAYS),
        readers=listed,
        zones=zones,
        people=pl.concat([names.cast(pl.String) for names in people]).unique().sort(),
    )


def _placed(punches: Frame, readers: Frame) -> tuple[pl.Series, pl.Series, Codes, Codes]:
    """Return readers and zones, and the places of each punch's reader and its zone among them."""
    listed = readers.unique("reader", keep="first", maintain_order=True)
    zones = listed["zone"].unique().sort()
    reader = codes_of(punches["reader"], listed["reader"])
    # UNKNOWN counts from the end, where the zone of readers that are not listed stands
    zone_of = np.append(codes_of(listed["zone"], zones), np.int32(UNKNOWN))
    return listed["reader"], zones, reader, zone_of[reader]


def with_added(codes: CodedPunches, owner: Codes, added: Frame) -> tuple[CodedPunches, Codes]:
    """Return the punches and whose each is with those `added` (ATTRIBUTED) behind them; they are at no reader."""
    if added.is_empty():
        return codes, owner
    nowhere = np.full(added.height, UNKNOWN, dtype=np.int32)
    everything = replace(
        codes,
        punch=np.append(codes.punch, added["punch"].to_numpy()),
        at=np.append(codes.at, added["at"].to_numpy()),
        reader=np.append(codes.reader, nowhere),
        zone=np.append(codes.zone, codes_of(added["zone"], codes.zones)),
        way=np.append(codes.way, codes_of(added["direction"], WAYS)),
    )
    return everything, np.append(owner, _places(added["person"], codes.people))


def codes_of(texts: pl.Series, known: pl.Series) -> Codes:
    """Return the place (n,) of each text among those `known`, else UNKNOWN."""
    codes = texts.cast(pl.Enum(known), strict=False).to_physical()
    return codes.cast(pl.Int32).fill_null(UNKNOWN).to_numpy()


def _places(names: pl.Series, known: pl.Series) -> Codes:
    return known.search_sorted(names).cast(pl.Int32).to_numpy()


def _texts(known: pl.Series, codes: Codes) -> pl.Series:
    places = pl.Series(codes).cast(pl.UInt32, strict=False)  # UNKNOWN has no place
    return known.cast(pl.String).gather(places)


def sole_owners(punches: Frame, readers: Frame, spans: Frame, people: pl.Series) -> Codes:
    """Return the place among `people` (n,) of whose span of number and zone the punch falls into, else UNKNOWN.

    Spans of one number and zone do not overlap.
    """
    _, zones, _, zone = _placed(punches, readers)
    numbers, width = spans["number"].unique().sort(), len(zones)
    number, when = codes_of(punches["number"], numbers), punches["at"].to_numpy()
    spans = spans.filter(pl.col("zone").is_in(zones.implode()))
    by_slot = spans.select(
        slot=pl.Series(codes_of(spans["number"], numbers) * width + codes_of(spans["zone"], zones)),
        starts="starts",
        ends="ends",
        holder=pl.Series(_places(spans["person"], people)),
    ).sort("slot", "starts")
    slots = by_slot["slot"].to_numpy()
    # behind all spans stands one that nothing falls into, for what has none
    starts, ends = np.append(by_slot["starts"].to_numpy(), NEVER), np.append(by_slot["ends"].to_numpy(), NEVER)
    holder = np.append(by_slot["holder"].to_numpy(), np.int32(UNKNOWN))
    every = np.arange(len(numbers) * width)
    first, last = (np.searchsorted(slots, every, side=side).astype(np.int32) for side in ("left", "right"))
    nothing = np.int32(len(slots))
    first, last = np.append(np.where(first < last, first, nothing), nothing), np.append(last, nothing)
    known = (number != UNKNOWN) & (zone != UNKNOWN)
    slot = np.where(known, number * np.int32(width) + zone, np.int32(len(every)))
    span = first[slot]
    inside = (starts[span] <= when) & (when < ends[span])
    owner = np.where(inside, holder[span], np.int32(UNKNOWN))
    rows = np.flatnonzero(~inside & (span + 1 < last[slot]))
    # nearly every number has one span, so what is left for another turn is little
    span, last = span[rows] + 1, last[slot[rows]]
    while rows.size:
        at = when[rows]
        inside = (starts[span] <= at) & (at < ends[span])
        owner[rows[inside]] = holder[span[inside]]
        further = ~inside & (span + 1 < last)
        rows, span, last = rows[further], span[further] + 1, last[further]
    return owner


def in_order(codes: CodedPunches, owner: Codes) -> Frame:
    """Return ATTRIBUTED by person, time and punch: the attributed punches."""
    mine = np.flatnonzero(owner != UNKNOWN)
    person = owner[mine]
    order = _order(person, codes.at[mine], codes.punch[mine])
    rows = mine[order]
    return ATTRIBUTED.frame(
        {
            "punch": codes.punch[rows],
            "person": codes.people.gather(person[order]),
            "reader": _texts(codes.readers, codes.reader[rows]),
            "zone": codes.zones.gather(codes.zone[rows]),
            "at": codes.at[rows],
            "direction": _texts(WAYS, codes.way[rows]),
        }
    )


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
