"""Hours over bare columns, for as many people as there are: totals and codes, no frames and no reasons.

People are taken in blocks that fit the processor's cache, so that memory stays near that of the columns read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import numpy as np

from evenhand.law import compiling
from evenhand.law.classing import class_spans
from evenhand.law.codes import NOTHING
from evenhand.law.compiling import run_pass
from evenhand.law.ordering import order_by_person, order_in_time, unpack
from evenhand.law.site import Site, bind_site
from evenhand.law.spans import Column, Pieces, Spans
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Policy, SiteRules

__all__ = ["WeekTotals", "class_columns"]

BLOCK_PUNCHES = 1 << 16
BLOCK_WEEKS = 1 << 19


@dataclass(frozen=True)
class WeekTotals:
    """Each person's workweeks, and a code for each punch.

    `person`, `week` (an index into `week_dates`), `recorded_s`, `ordinary_s`, `overtime_s`, `double_s`, `questions`
    and `owed_s` (pay owed beside time worked) have one entry a person and week with any of the seconds or questions,
    shape (n weeks,). `order` lists the rows handed in by person and
    time; `codes`, in that order, holds the reading (bits 0-1: 1 in, 2 out, 0 for a presentation that counts with
    another), what follows (bits 2-3: 0 not paid, 1 paid rest, 2 work) and what is open (bits 4-6, as in
    `law.codes.ASKS`), shape (n rows,).
    """

    person: Column
    week: Column
    recorded_s: Column
    ordinary_s: Column
    overtime_s: Column
    double_s: Column
    questions: Column
    owed_s: Column
    week_dates: tuple[date, ...]
    order: Column
    codes: Column


def class_columns(
    person: Column,
    at: Column,
    mark: Column,
    zone: Column,
    zone_names: tuple[str, ...],
    rules: SiteRules,
    policy: Policy,
    *,
    over: Callable[[Callable[[Any], Any], Iterable[Any]], Iterable[Any]] = map,
) -> WeekTotals:
    """Return the workweeks of everybody in the columns, all of whom `rules` bind.

    `person` holds codes from 0 without large holes, `at` instants [s], `mark` 0 where unmarked, 1 in, 2 out,
    `zone` indices into `zone_names`; shape (n punches,) each, rows in any order, equal instants in order of
    arrival. Schedules, rates and waivers are not among the columns: rules that need them do as they do without. `over`
    maps the work over blocks of whole people: `map` here, or the engine's. Raises Refusal as
    `compute_hours` does, and on codes that are not dense.
    """
    if rules.changes:
        raise Refusal(f"site {rules.site}: columns are computed under one set of rules; give each its own weeks.")
    large = len(at) >= compiling.LARGE
    if len(at) == 0:
        none = np.zeros(0, np.int64)
        return WeekTotals(none, none, none, none, none, none, none, none, (), none, np.zeros(0, np.uint8))
    people = int(person.max()) + 1
    if int(person.min()) < 0 or people > 4 * len(at) + 1_000:
        raise Refusal("person codes must be dense, from 0 without large holes; number the people again.")
    site = bind_site(rules, policy, zone_names, int(at.min()), int(at.max()), large=large)
    order, packed, ends = order_by_person(person, at, mark, zone, people, large=large)
    rows_of_each = np.diff(ends, prepend=0)
    codes = np.zeros(len(at), np.uint8)

    def one(block: tuple[int, int, int, int]) -> tuple[Column, ...]:
        first, last, low, high = block
        who = np.repeat(np.arange(first, last, dtype=np.int32), rows_of_each[first:last])
        spans = _in_time(who, packed[low:high], order[low:high])
        spans = class_spans(spans, site)
        codes[low:high][spans.row] = spans.reading | spans.gap << 2 | spans.asks << 4
        return _week_totals(spans, first, last, site)

    parts = list(over(one, _blocks(ends, len(site.week_dates))))
    who, week, recorded, ordinary, overtime, double, asked, owed = (
        np.concatenate(column) for column in zip(*parts, strict=True)
    )
    dates = tuple(site.week_dates)
    return WeekTotals(who, week, recorded, ordinary, overtime, double, asked, owed, dates, order, codes)


def _blocks(ends: Column, weeks: int) -> Iterator[tuple[int, int, int, int]]:
    """Yield (first person, last person + 1, first row, last row + 1) of blocks of whole people."""
    first, low, people = 0, 0, len(ends)
    while first < people:
        last = int(np.searchsorted(ends, low + BLOCK_PUNCHES, side="right"))
        last = min(max(last, first + 1), first + max(1, BLOCK_WEEKS // weeks), people)
        high = int(ends[last - 1])
        if high > low:
            yield first, last, low, high
        first, low = last, high


def _in_time(person: Column, packed: Column, order: Column) -> Spans:
    """Return the block's punches in time; `order` is put right along with them."""
    at, mark, zone = unpack(packed)
    in_time = order_in_time(person, at)
    if in_time is None:
        return Spans(person, at, mark, zone)
    order[:] = order[in_time]
    return Spans(person, at[in_time], mark[in_time], zone[in_time])


def tally_pieces(
    person: Any,
    act: Any,
    week: Any,
    starts: Any,
    overtime_from: Any,
    double_from: Any,
    ends: Any,
    first: int,
    weeks: int,
    ordinary: Any,
    overtime: Any,
    double: Any,
) -> None:
    """Add the seconds of each piece to its person's week, by class; totals hold `weeks` entries a person."""
    for piece in range(len(act)):
        slot = (person[act[piece]] - first) * weeks + week[piece]
        ordinary[slot] += overtime_from[piece] - starts[piece]
        overtime[slot] += double_from[piece] - overtime_from[piece]
        double[slot] += ends[piece] - double_from[piece]


def _week_totals(spans: Spans, first: int, last: int, site: Site) -> tuple[Column, ...]:
    weeks = len(site.week_dates)
    slots_in_all = (last - first) * weeks

    def tally(pieces: Pieces) -> tuple[Column, Column, Column]:
        totals = tuple(np.zeros(slots_in_all, np.int64) for _ in range(3))
        lines = (pieces.starts, pieces.overtime_from, pieces.double_from, pieces.ends)
        inputs = (spans.person, pieces.act, pieces.week, *lines, first, weeks)
        run_pass(tally_pieces, inputs, totals, large=site.large)
        return totals  # type: ignore[return-value]

    recorded, *_ = tally(replace(spans.recorded, overtime_from=spans.recorded.ends, double_from=spans.recorded.ends))
    ordinary, overtime, double = tally(spans.paid)
    asked = np.flatnonzero(spans.asks != NOTHING)
    asked_week = np.searchsorted(site.week_bounds, spans.at[asked], side="right") - 1
    slots_asked = (spans.person[asked] - first).astype(np.int64) * weeks + asked_week
    questions = np.bincount(slots_asked, minlength=slots_in_all)
    owed = np.zeros(slots_in_all, np.int64)
    for one in spans.owed:
        np.add.at(owed, (spans.person[one.act] - first).astype(np.int64) * weeks + one.day // 7, one.seconds)
    slots = np.flatnonzero(recorded | ordinary | overtime | double | questions | owed)
    columns = (recorded, ordinary, overtime, double, questions, owed)
    return (slots // weeks + first, slots % weeks, *(column[slots] for column in columns))
