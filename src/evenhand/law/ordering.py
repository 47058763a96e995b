"""Put attributed punches in order of person and time, as columns of numbers.

People become dense codes in order of their names. A counting sort on the codes keeps the order of arrival within each
person; what then is out of time is put right among whole people at a time, so a few late uploads cost only their own.
Measured on 10 M punches, against a comparison sort of all: a fifth of the time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import polars as pl

from evenhand.law.codes import IN, OUT, UNMARKED
from evenhand.law.compiling import run_pass
from evenhand.law.spans import Column, Spans
from evenhand.terms.columns import Frame

__all__ = ["Block", "Each", "Ordered", "order_punches"]

BLOCK_PUNCHES = 1 << 16
"""Punches of whole people that are worked on together, so that what a pass writes is still in the processor's cache
for the next one."""

BLOCK_WEEKS = 1 << 19

PARTS = 4
"""Parts of the rows that are put in order of person beside each other."""

FEW = 1_000
"""Rows that tell whether a frame may stand in order of people, before all of it is looked at."""

Each = Callable[[Callable[[Any], Any], Iterable[Any]], Iterable[Any]]
"""What applies a function to each of several parts, in order as `map` does, on as many threads as it likes."""

Block = tuple[int, int, int, int]
"""First person, last person + 1, first row, last row + 1 of whole people."""


@dataclass(frozen=True)
class Ordered:
    """Punches by person, within each in order of arrival.

    `people` are the names by code and `zones` those of the zones. `row` is each punch's row in the frame it came from;
    `packed` holds its instant, zone and mark in one number; `ends` each person's last place + 1. `stored` are the
    punches' own numbers, by row. `large` tells whether the passes are worth compiling.
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
        arrived = self.row[low:high]
        inputs = (self.packed[low:high], arrived, self.stored, self.ends[first:last], first, low, len(arrived))
        filled = tuple(
            np.empty(len(arrived), dtype) for dtype in (np.int32, np.int64, np.int8, np.int16, arrived.dtype)
        )
        if run_pass(unpack, inputs, filled, large=self.large) >= len(arrived):
            order = self._in_time(filled[0], filled[1], filled[4])
            filled = (filled[0], *(column[order] for column in filled[1:]))
        person, at, mark, zone, row = filled
        return Spans(person, at, mark, zone), row

    def _in_time(self, person: Column, at: Column, row: Column) -> Column:
        # One key for person and time keeps the sort's use of runs that are in order already.
        width = int(at.max()) - int(at.min()) + 1
        key = (person - person[0]).astype(np.int64) * width + (at - at.min())
        order = np.argsort(key, kind="stable")
        tied = np.flatnonzero(np.diff(key[order]) == 0)
        among = np.union1d(tied, tied + 1)
        order[among] = order[among][np.lexsort((self.stored[row[order[among]]], key[order[among]]))]
        return order


def order_punches(attributed: Frame, *, large: bool, each: Each = map) -> Ordered:
    """Return the punches of `attributed` (ATTRIBUTED, rows in any order) by person; `each` works on parts of them."""
    way, (unmarked, inward, outward) = pl.col("direction"), (pl.lit(mark, pl.Int8) for mark in (UNMARKED, IN, OUT))
    marked = pl.when(way == "in").then(inward).when(way == "out").then(outward).otherwise(unmarked)
    runs = _runs(attributed["person"])
    texts = {name: pl.Categories.random() for name in ("zone", "person") if name == "zone" or not runs}
    # One query, in which columns are coded beside each other.
    codes = {name: pl.col(name).cast(pl.Categorical(known)).to_physical() for name, known in texts.items()}
    coded = attributed.select("at", marked.alias("mark"), **codes)
    zones, zone_rank = _ranked(texts["zone"].to_series())
    if runs:
        people, person = runs
        ends = np.searchsorted(person, np.arange(len(people)), side="right")
        row, packed = np.arange(len(person), dtype=_row_type(len(person))), _packed(coded, zone_rank)
    else:
        people, rank = _ranked(texts["person"].to_series())
        by_person = _place if large else _sort
        row, packed, ends = by_person(coded, rank, zone_rank, each)
    return Ordered(people, tuple(zones), row, packed, ends, attributed["punch"].to_numpy(), large)


def _sort(coded: Frame, rank: Column, zone_rank: Column, each: Each) -> tuple[Column, Column, Column]:
    """Return each row's place in the frame and its packed number, by person, and where each person ends."""
    person = rank[coded["person"].to_numpy()]
    row = np.argsort(person, kind="stable")
    return row, _packed(coded, zone_rank)[row], np.cumsum(np.bincount(person, minlength=len(rank)))


def _place(coded: Frame, rank: Column, zone_rank: Column, each: Each) -> tuple[Column, Column, Column]:
    """Return the same by counting: parts of the rows beside each other, each where it follows the parts before it."""
    rows = coded.height
    row, packed = np.empty(rows, _row_type(rows)), np.empty(rows, np.int64)
    bounds = np.linspace(0, rows, PARTS + 1).astype(np.int64)
    # Cut where the columns lie in pieces already, no piece is copied.
    cuts = np.union1d(bounds, np.cumsum(coded["at"].chunk_lengths()))

    def pieces(part: int) -> Iterator[tuple[int, Frame]]:
        within = cuts[(cuts >= bounds[part]) & (cuts <= bounds[part + 1])].tolist()
        return ((begins, coded.slice(begins, ends - begins)) for begins, ends in pairwise(within))

    def count(part: int) -> Column:
        counted = np.zeros(len(rank), np.int64)
        for _, piece in pieces(part):
            run_pass(count_people, (piece["person"].to_numpy(),), (counted,), large=True)
        return counted

    counts = np.zeros((len(rank), PARTS), np.int64)
    counts[rank] = np.stack(list(each(count, range(PARTS))), axis=1)
    last = np.cumsum(counts).reshape(counts.shape)
    first = np.ascontiguousarray((last - counts).T)

    def place(part: int) -> None:
        for begins, piece in pieces(part):
            columns = (piece[name].to_numpy() for name in ("person", "at", "zone", "mark"))
            run_pass(place_by_person, (*columns, rank, zone_rank, begins), (first[part], row, packed), large=True)

    list(each(place, range(PARTS)))
    return row, packed, last[:, -1]


def _row_type(rows: int) -> type[Any]:
    """Return what holds the place of a row; one type for all ways of ordering, for which a pass is compiled once."""
    return np.uint32 if rows < 2**32 else np.int64


def _packed(coded: Frame, zone_rank: Column) -> Column:
    at, zone, mark = (coded[name].to_numpy() for name in ("at", "zone", "mark"))
    packed: Column = (at << 16) | (zone_rank[zone] << 2) | mark
    return packed


def _runs(texts: pl.Series) -> tuple[pl.Series, Column] | None:
    """Return people by name and each row's person, where the rows stand in that order already."""
    if not texts.head(FEW).is_sorted():
        return None
    run = texts.rle_id().to_numpy()
    names = texts.gather(np.searchsorted(run, np.arange(run[-1] + 1)))
    return (names, run) if names.is_sorted() and names.is_unique().all() else None


def _ranked(names: pl.Series) -> tuple[pl.Series, Column]:
    """Return the names in order, and the place of each among them."""
    in_order = names.arg_sort()
    rank = np.empty(len(names), np.int64)
    rank[in_order.to_numpy()] = np.arange(len(names))
    return names.gather(in_order), rank


def count_people(person: Any, counted: Any) -> None:
    """Add to each person's count of rows."""
    for number in range(len(person)):
        counted[person[number]] += 1


def place_by_person(
    person: Any,
    at: Any,
    zone: Any,
    mark: Any,
    rank: Any,
    zone_rank: Any,
    begins: int,
    next_place: Any,
    row: Any,
    packed: Any,
) -> None:
    """Fill rows by person, in order of arrival; `next_place` moves from each person's first place to the end.

    One number a row, so that placing it touches memory once. `begins` is the first row's place in the frame.
    """
    for number in range(len(person)):
        who = rank[person[number]]
        place = next_place[who]
        row[place] = begins + number
        packed[place] = (at[number] << 16) | (zone_rank[zone[number]] << 2) | mark[number]
        next_place[who] = place + 1


def unpack(
    packed: Any,
    arrived: Any,
    stored: Any,
    ends: Any,
    first: int,
    low: int,
    most: int,
    person: Any,
    at: Any,
    mark: Any,
    zone: Any,
    row: Any,
) -> int:
    """Fill the columns of packed rows of whole people by time, equal instants by the punches' numbers in `stored`.

    A row that came late is put in its place among those before it. Returns how often one moved; after `most` moves the
    rest stays as it came, for a sort is faster then.
    """
    moves, place = 0, 0
    for who in range(len(ends)):
        begins = place
        while place < ends[who] - low:
            number, came = packed[place], arrived[place]
            instant, k = number >> 16, place
            while k > begins and at[k - 1] >= instant and moves < most:
                if at[k - 1] == instant and stored[row[k - 1]] <= stored[came]:
                    break
                at[k], mark[k], zone[k], row[k] = at[k - 1], mark[k - 1], zone[k - 1], row[k - 1]
                k -= 1
                moves += 1
            at[k], mark[k], zone[k], row[k] = instant, number & 3, number >> 2 & 0x3FFF, came
            person[place] = first + who
            place += 1
    return moves
