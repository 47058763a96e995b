"""Put owned punches in order of person and time, as columns of numbers.

People become dense codes in order of their names. A counting sort on the codes keeps the order of arrival within each
person; what then is out of time is put right among whole people at a time, so a few late uploads cost only their own.
Measured on 10 M punches, against a comparison sort of all: a fifth of the time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import polars as pl

from evenhand.law import compiling
from evenhand.law.codes import IN, OUT
from evenhand.law.compiling import run_pass
from evenhand.law.spans import Column, Spans
from evenhand.terms.columns import Frame

__all__ = ["Block", "Ordered", "order_punches"]

BLOCK_PUNCHES = 1 << 16
"""Punches of whole people that are worked on together, so that what a pass writes is still in the processor's cache
for the next one."""

BLOCK_WEEKS = 1 << 19

Block = tuple[int, int, int, int]
"""First person, last person + 1, first row, last row + 1 of whole people."""


@dataclass(frozen=True)
class Ordered:
    """Punches by person, within each in order of arrival.

    `people` are the names by code and `zones` those of the zones; `row` is each punch's row in the frame it came from,
    `packed` its instant, zone and mark in one number, `ends` each person's last place + 1. `stored` are the punches'
    own numbers, in the frame's order. `large` tells whether the passes are worth compiling.
    """

    people: pl.Series
    zones: tuple[str, ...]
    row: Column
    packed: Column
    ends: Column
    stored: Column
    large: bool

    def blocks(self, weeks: int) -> Iterator[Block]:
        """Yield blocks of whole people, each with room for so many weeks a person; plain passes take all at once."""
        first, low, people = 0, 0, len(self.ends)
        most = BLOCK_PUNCHES if self.large else len(self.row)
        while first < people:
            last = int(np.searchsorted(self.ends, low + most, side="right"))
            last = min(max(last, first + 1), first + max(1, BLOCK_WEEKS // weeks), people)
            high = int(self.ends[last - 1])
            yield first, last, low, high
            first, low = last, high

    def spans(self, block: Block) -> tuple[Spans, Column]:
        """Return a block's punches by person and time, equal instants by the punches' numbers, and their rows."""
        first, last, low, high = block
        person = np.repeat(np.arange(first, last, dtype=np.int32), np.diff(self.ends[first:last], prepend=low))
        packed, row = self.packed[low:high], self.row[low:high]
        at = packed >> 16
        same = person[1:] == person[:-1]
        if np.any((at[1:] < at[:-1]) & same):
            # One key for both keeps the sort's use of runs that are in order already.
            width = int(at.max()) - int(at.min()) + 1
            order = np.argsort((person - first).astype(np.int64) * width + at, kind="stable")
            packed, row = packed[order], row[order]
            at = packed >> 16
        tied = np.flatnonzero((at[1:] == at[:-1]) & same)
        if len(tied):
            among = np.union1d(tied, tied + 1)
            order = among[np.lexsort((self.stored[row[among]], at[among], person[among]))]
            packed, row = packed.copy(), row.copy()
            packed[among], row[among] = packed[order], row[order]
        spans = Spans(person, at, (packed & 3).astype(np.int8), (packed >> 2 & 0x3FFF).astype(np.int16))
        return spans, row


def order_punches(owned: Frame) -> Ordered:
    """Return the punches of `owned` (OWNED, rows in any order) by person."""
    large = owned.height >= compiling.large()
    people, person = _coded(owned["person"])
    zones, zone = _coded(owned["zone"])
    way = pl.col("direction")
    mark = owned.select(((way == "in") * IN + (way == "out") * OUT).fill_null(0).cast(pl.Int8)).to_series().to_numpy()
    at = owned["at"].to_numpy()
    counts = np.bincount(person, minlength=len(people))
    ends = np.cumsum(counts)
    if large:
        row = np.empty(len(at), np.uint32 if len(at) < 2**32 else np.int64)
        packed = np.empty(len(at), np.int64)
        run_pass(place_by_person, (person, at, mark, zone), (ends - counts, row, packed), large=True)
    else:
        row = np.argsort(person, kind="stable")
        packed = ((at << 16) | (zone.astype(np.int64) << 2) | mark)[row]
    return Ordered(people, tuple(zones), row, packed, ends, owned["punch"].to_numpy(), large)


def _coded(texts: pl.Series) -> tuple[pl.Series, Column]:
    """Return the different texts in order, and the place of each row's text among them."""
    names = texts.unique().sort()
    if len(names) == 1:
        return names, np.zeros(len(texts), np.uint8)
    return names, texts.cast(pl.Enum(names)).to_physical().to_numpy()


def place_by_person(person: Any, at: Any, mark: Any, zone: Any, next_place: Any, order: Any, packed: Any) -> None:
    """Fill rows by person, in order of arrival; `next_place` moves from each person's first place to the end.

    One number a row, so that placing it touches memory once.
    """
    for row in range(len(person)):
        place = next_place[person[row]]
        order[place] = row
        packed[place] = (at[row] << 16) | (zone[row] << 2) | mark[row]
        next_place[person[row]] = place + 1
