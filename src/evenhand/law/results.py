"""What the passes made of a block of people, as columns of numbers; and the frames that leave the room.

Columns are taken block by block and become one frame at the end, where codes get their names: so text is made once.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from typing import Any

import numpy as np
import polars as pl

from evenhand.law.classing import Account
from evenhand.law.codes import ASKS, LONG_SPAN, NOTHING
from evenhand.law.differentials import differential_columns
from evenhand.law.jurisdiction import Rule
from evenhand.law.ordering import Block
from evenhand.law.paid_spans import class_pieces
from evenhand.law.sentences import say
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Owed, Spans
from evenhand.law.tallies import by_week, week_of, week_totals
from evenhand.terms.columns import Frame, Table
from evenhand.terms.hours import CLASSED, DIFFERENTIALS, PREMIUMS, QUESTIONS, RECORDED_SPANS, STEPS, WEEKS
from evenhand.terms.stretches import HALF_SHIFT_S
from evenhand.terms.zones import DAY_S

__all__ = ["HOURS_TABLES", "Columns", "Done", "assemble", "columns_of"]

NEAR_S = 14 * DAY_S
"""How far from a question the spans lie that say how long its span may have been."""

CLASS_NAMES = ("ordinary", "overtime", "double")
Columns = Mapping[str, Any]
"""Columns by name; none at all where a block has no row of a part."""


@dataclass(frozen=True)
class Done:
    """A block of people as the rules left it, and which row of the frame each of its rows is."""

    spans: Spans
    account: Account
    block: Block
    site: Site
    row: Column
    numbers: Column

    @cached_property
    def stored(self) -> Column:
        """Return the stored punch that each row of the block is; read only where somebody asks."""
        stored: Column = self.numbers[self.row]
        return stored

    @cached_property
    def punches(self) -> Column:
        """Return the stored punch that each punch is."""
        kept: Column = self.stored[self.spans.row]
        return kept


@dataclass(frozen=True)
class Named:
    """A column of texts as codes: each is one of `names`, the same in all blocks."""

    names: tuple[str | None, ...]
    codes: Column


def columns_of(parts: Sequence[str], done: Done) -> dict[str, Columns]:
    """Return the columns of each part, people and weeks as codes."""
    return {part: HOURS_TABLES[part][1](done) for part in parts}


def assemble(part: str, blocks: Sequence[Columns], people: pl.Series, site: Site) -> Frame:
    """Return one frame of the columns of all blocks, with names in place of codes."""
    table, _, order = HOURS_TABLES[part]
    blocks = [block for block in blocks if block]
    if not blocks:
        return table.empty()
    columns = {name: _joined([block[name] for block in blocks]) for name in blocks[0]}
    columns["person"] = people.gather(columns["person"])
    columns["workweek"] = pl.Series(site.week_dates, dtype=pl.Date).gather(columns.pop("week"))
    frame = table.frame({name: columns[name] for name in table.names})
    return frame.sort(*order, maintain_order=True) if order else frame


def _joined(parts: Sequence[Any]) -> Any:
    if isinstance(parts[0], Named):
        codes = np.concatenate([part.codes for part in parts])
        return pl.Series(parts[0].names, dtype=pl.String).gather(codes)
    if isinstance(parts[0], pl.Series):
        return pl.concat(parts) if len(parts) > 1 else parts[0]
    return np.concatenate(parts) if len(parts) > 1 else parts[0]


def _weeks(done: Done) -> Columns:
    names = ("person", "week", "recorded_s", "steps_s", "ordinary_s", "overtime_s", "double_s", "questions")
    return dict(zip(names, week_totals(done.spans, done.account, done.block, done.site), strict=True))


def _recorded_spans(done: Done) -> Columns:
    work = done.spans.recorded
    return {
        "person": done.spans.person[work.punch],
        "week": work.week,
        "starts": work.starts,
        "ends": work.ends,
        "punch_in": done.punches[work.punch],
        "punch_out": done.punches[work.punch + 1],
    }


def _classed(done: Done) -> Columns:
    """Return paid spans in one class each, each with the rule that moved it there."""
    spans, paid = done.spans, done.spans.paid
    piece, low, high, pay_class, rule = class_pieces(paid, done.account.classed, large=done.site.large)
    punch = paid.punch[piece]
    return {
        "person": spans.person[punch],
        "shift": spans.shift[punch],
        "week": paid.week[piece],
        "starts": low,
        "ends": high,
        "pay_class": Named(CLASS_NAMES, pay_class),
        "rule": Named((None, *(name for name, _, _ in done.account.classed)), rule),
        "punch_in": done.punches[punch],
        "punch_out": done.punches[punch + 1],
    }


def _questions(done: Done) -> Columns:
    spans = done.spans
    punch = np.flatnonzero(spans.asks != NOTHING)
    asks = spans.asks[punch]
    doubt = _usual_s(spans, punch)
    long = asks == LONG_SPAN
    doubt[long] = np.maximum(0, spans.at[punch[long] + 1] - spans.at[punch[long]] - doubt[long])
    return {
        "person": spans.person[punch],
        "kind": Named(ASKS, asks),
        "at": spans.at[punch],
        "week": week_of(spans.at[punch], done.site),
        "punch": done.punches[punch],
        "minutes": np.rint(doubt / 60).astype(np.int64),
    }


def _usual_s(spans: Spans, asked: Column) -> Column:
    """Return how long the spans of each asked punch's person last that begin within two weeks of it, on average [s].

    Half a shift where there is none. No further back, so that the estimate is the same however many weeks are worked
    out together.
    """
    work = spans.recorded
    if not len(work.punch):
        return np.full(len(asked), float(HALF_SHIFT_S))
    span = np.cumsum(np.diff(work.punch, prepend=-1) != 0) - 1
    lasts = np.concatenate([[0], np.cumsum(np.bincount(span, weights=work.ends - work.starts))])
    begins = work.punch[np.flatnonzero(np.diff(work.punch, prepend=-1))]
    apart = int(spans.at.max() - spans.at.min()) + 2 * NEAR_S + 1
    keys = spans.person.astype(np.int64) * apart + (spans.at - spans.at.min())
    low = np.searchsorted(keys[begins], keys[asked] - NEAR_S, side="left")
    high = np.searchsorted(keys[begins], keys[asked] + NEAR_S, side="right")
    count = high - low
    return np.where(count > 0, (lasts[high] - lasts[low]) / np.maximum(count, 1), HALF_SHIFT_S)


def _premiums(done: Done) -> Columns:
    return _all_of([_owed(done, owed) for owed in done.spans.owed if len(owed.punch)])


def _all_of(parts: Sequence[Columns]) -> Columns:
    return {name: _joined([part[name] for part in parts]) for name in parts[0]} if parts else {}


def _owed(done: Done, owed: Owed) -> Columns:
    spans, rows = done.spans, len(owed.punch)
    return {
        "person": spans.person[owed.punch],
        "week": owed.day // 7,
        "workday": pl.Series(done.site.day_dates, dtype=pl.Date).gather(owed.day),
        "kind": pl.repeat(owed.kind, rows, dtype=pl.String, eager=True),
        "hours": _hours(owed.seconds),
        "says": say(owed.says, owed.reason, owed.words, spans.zone[owed.punch], done.site),
        "cites": pl.repeat("; ".join(citation.where for citation in owed.cites), rows, dtype=pl.String, eager=True),
        "punch": done.punches[owed.punch],
    }


def _hours(seconds: Column) -> pl.Series:
    """Return hours, exact to the ten-thousandth."""
    different, place = np.unique(seconds, return_inverse=True)
    hours = [(Decimal(int(one)) / 3600).quantize(Decimal("0.0001")) for one in different]
    return pl.Series(hours, dtype=pl.Decimal(18, 4)).gather(place)


def _steps(done: Done) -> Columns:
    columns = _all_of([_rule_steps(done, *change) for change in done.account.changes if len(change[1].punch)])
    if not columns:
        return {}
    order = np.lexsort((columns["starts"], columns["person"]))
    return {
        name: column[order] if isinstance(column, np.ndarray) else column.gather(order)
        for name, column in columns.items()
    }


def _rule_steps(done: Done, rule: Rule, changes: Changes) -> Columns:
    row, week, starts, ends = by_week(changes, done.site)
    said = say(changes.says, changes.reason, changes.words, done.spans.zone[changes.punch], done.site)
    first, second = _source_punches(done, changes)
    classes = changes.classes or ((None, None),) * len(changes.says)
    reason = changes.reason[row]
    return {
        "person": done.spans.person[changes.punch[row]],
        "week": week,
        "rule": pl.repeat(rule.name, len(row), dtype=pl.String, eager=True),
        "starts": starts,
        "ends": ends,
        "seconds": changes.sign[row] * (ends - starts),
        "from_class": pl.Series([was for was, _ in classes], dtype=pl.String).gather(reason),
        "to_class": pl.Series([now for _, now in classes], dtype=pl.String).gather(reason),
        "punch_a": first.gather(row),
        "punch_b": second.gather(row),
        "says": said.gather(row),
        "cites": pl.repeat("; ".join(one.where for one in rule.cites), len(row), dtype=pl.String, eager=True),
    }


def _source_punches(done: Done, changes: Changes) -> tuple[pl.Series, pl.Series]:
    """Return the stored punches that each change came from; the second is null where there is one alone."""
    if changes.rows:
        row, other = changes.rows
        return pl.Series(done.stored[row], dtype=pl.Int64), pl.Series(done.stored[other], dtype=pl.Int64)
    first = pl.Series(done.punches[changes.punch], dtype=pl.Int64)
    if changes.to_next:
        return first, pl.Series(done.punches[changes.punch + 1], dtype=pl.Int64)
    return first, pl.repeat(None, len(first), dtype=pl.Int64, eager=True)


def _differentials(done: Done) -> Columns:
    return differential_columns(done.spans, done.site)


HOURS_TABLES: dict[str, tuple[Table, Callable[[Done], Columns], tuple[str, ...]]] = {
    "weeks": (WEEKS, _weeks, ()),
    "classed": (CLASSED, _classed, ()),
    "recorded_spans": (RECORDED_SPANS, _recorded_spans, ()),
    "questions": (QUESTIONS, _questions, ()),
    "steps": (STEPS, _steps, ()),
    "premiums": (PREMIUMS, _premiums, ("person", "workday", "kind")),
    "differentials": (DIFFERENTIALS, _differentials, ("person", "starts", "kind")),
}
"""Each part of the hours: its table, its columns from a block, and its order where blocks do not give it already."""
