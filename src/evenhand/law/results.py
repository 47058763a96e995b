"""What the passes made of a block of people, as columns of numbers; and the frames that leave the room.

Columns are taken block by block and become one frame at the end, where codes get their names: so text is made once.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import numpy as np
import polars as pl

from evenhand.law.classing import Account
from evenhand.law.codes import ASKS, LONG_SPAN, NOTHING
from evenhand.law.differentials import differential_columns
from evenhand.law.ordering import Block
from evenhand.law.sentences import say
from evenhand.law.site import Site
from evenhand.law.spans import Column, Pieces, Spans
from evenhand.law.tallies import by_week, week_of, week_totals
from evenhand.terms.columns import Frame, Table
from evenhand.terms.stretches import HALF_SHIFT_S
from evenhand.terms.tables import CLASSED, DIFFERENTIALS, PREMIUMS, QUESTIONS, RECORDED_SPANS, STEPS, WEEKS

__all__ = ["PARTS", "Done", "assemble", "columns_of"]

CLASS_NAMES = ("ordinary", "overtime", "double")
Columns = Mapping[str, Any]


@dataclass(frozen=True)
class Done:
    """A block of people as the rules left it, the place of its rows in the frame, and the stored punches by place."""

    spans: Spans
    account: Account
    block: Block
    site: Site
    stored: Column
    place: Column

    def punch(self, punches: Column) -> Column:
        """Return the stored punches that these are."""
        return self.of_rows(self.spans.row[punches])

    def of_rows(self, rows: Column) -> Column:
        """Return the stored punches of rows of the block."""
        stored: Column = self.stored[self.place[rows]]
        return stored


def columns_of(parts: Sequence[str], done: Done) -> dict[str, Columns]:
    """Return the columns of each part, people and weeks as codes."""
    return {part: PARTS[part][1](done) for part in parts}


def assemble(part: str, blocks: Sequence[Columns], people: pl.Series, site: Site) -> Frame:
    """Return one frame of the columns of all blocks, with names in place of codes."""
    table, _, order = PARTS[part]
    if not blocks:
        return table.empty()
    columns = {name: _joined([block[name] for block in blocks]) for name in blocks[0]}
    columns["person"] = people.gather(columns["person"])
    columns["workweek"] = pl.Series(site.week_dates, dtype=pl.Date).gather(columns["week"])
    frame = table.frame({name: columns[name] for name in table.names})
    return frame.sort(*order, maintain_order=True) if order else frame


def _joined(parts: Sequence[Any]) -> Any:
    if isinstance(parts[0], pl.Series):
        return pl.concat(parts) if len(parts) > 1 else parts[0]
    return np.concatenate(parts) if len(parts) > 1 else parts[0]


def _named(names: Sequence[str | None], codes: Column) -> pl.Series:
    return pl.Series(names, dtype=pl.String).gather(codes)


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
        "punch_in": done.punch(work.punch),
        "punch_out": done.punch(work.punch + 1),
    }


def _classed(done: Done) -> Columns:
    """Return paid spans in one class each, each moved there by one rule."""
    spans, paid = done.spans, done.spans.paid
    parts = [(0, 0, paid.starts, paid.overtime_from)]
    for pay_class, rule, low, high in _moved_to_class(paid, done.account):
        parts.append((pay_class, rule, low, high))
    kept = [np.flatnonzero(low < high) for _, _, low, high in parts]
    piece = np.concatenate(kept)
    starts = np.concatenate([low[rows] for (_, _, low, _), rows in zip(parts, kept, strict=True)])
    ends = np.concatenate([high[rows] for (_, _, _, high), rows in zip(parts, kept, strict=True)])
    codes = np.repeat(np.arange(len(parts)), [len(rows) for rows in kept])
    order = np.lexsort((starts, piece)) if len(parts) > 1 else np.arange(len(piece))
    piece, codes = piece[order], codes[order]
    punch = paid.punch[piece]
    rules = [None, *(name for name, _, _ in done.account.classed)]
    return {
        "person": spans.person[punch],
        "shift": spans.shift[punch],
        "week": paid.week[piece],
        "starts": starts[order],
        "ends": ends[order],
        "pay_class": _named([CLASS_NAMES[pay_class] for pay_class, *_ in parts], codes),
        "rule": _named([rules[rule] for _, rule, *_ in parts], codes),
        "punch_in": done.punch(punch),
        "punch_out": done.punch(punch + 1),
    }


def _moved_to_class(paid: Pieces, account: Account) -> list[tuple[int, int, Column, Column]]:
    """Return class, rule (from 1), and the bounds in each piece of what the rule moved to that class and left there.

    Rules move the bounds between classes back, never on, so each has what lies between its own and the one before.
    """
    found = []
    overtime_until, double_until = paid.double_from, paid.ends
    for number, (_, overtime_from, double_from) in enumerate(account.classed, start=1):
        found.append((1, number, overtime_from, overtime_until))
        found.append((2, number, double_from, double_until))
        overtime_until = np.minimum(overtime_from, paid.double_from)
        double_until = double_from
    return found


def _questions(done: Done) -> Columns:
    spans, (first, last, _, _) = done.spans, done.block
    work = spans.recorded
    owner = spans.person[work.punch] - first
    starts_new = np.diff(work.punch, prepend=-1) != 0
    spans_of_each = np.bincount(owner[starts_new], minlength=last - first)
    total = np.bincount(owner, weights=work.ends - work.starts, minlength=last - first)
    usual = np.where(spans_of_each > 0, total / np.maximum(spans_of_each, 1), HALF_SHIFT_S)
    punch = np.flatnonzero(spans.asks != NOTHING)
    asks = spans.asks[punch]
    doubt = usual[spans.person[punch] - first]
    long = asks == LONG_SPAN
    doubt[long] = np.maximum(0, spans.at[punch[long] + 1] - spans.at[punch[long]] - doubt[long])
    return {
        "person": spans.person[punch],
        "kind": _named(ASKS, asks),
        "at": spans.at[punch],
        "week": week_of(spans.at[punch], done.site),
        "punch": done.punch(punch),
        "minutes": np.rint(doubt / 60).astype(np.int64),
    }


def _premiums(done: Done) -> Columns:
    parts = [_owed(done, number) for number in range(len(done.spans.owed))]
    if not parts:
        none = np.zeros(0, np.int64)
        texts = dict.fromkeys(("kind", "says", "cites"), pl.Series(dtype=pl.String))
        day = pl.Series(dtype=pl.Date)
        return {"person": none, "week": none, "workday": day, "hours": none, "punch": none, **texts}
    return {name: _joined([part[name] for part in parts]) for name in parts[0]}


def _owed(done: Done, number: int) -> Columns:
    spans, owed = done.spans, done.spans.owed[number]
    rows = len(owed.punch)
    return {
        "person": spans.person[owed.punch],
        "week": owed.day // 7,
        "workday": pl.Series(done.site.day_dates, dtype=pl.Date).gather(owed.day),
        "kind": pl.repeat(owed.kind, rows, eager=True),
        "hours": _hours(owed.seconds),
        "says": say(owed.says, owed.reason, owed.words, spans.zone[owed.punch], done.site),
        "cites": pl.repeat("; ".join(citation.where for citation in owed.cites), rows, eager=True),
        "punch": done.punch(owed.punch),
    }


def _hours(seconds: Column) -> pl.Series:
    """Return hours, exact to the ten-thousandth."""
    different, place = np.unique(seconds, return_inverse=True)
    hours = [(Decimal(int(one)) / 3600).quantize(Decimal("0.0001")) for one in different]
    return pl.Series(hours, dtype=pl.Decimal(18, 4)).gather(place)


def _steps(done: Done) -> Columns:
    parts = [_rule_steps(done, number) for number in range(len(done.account.changes))]
    columns = {name: _joined([part[name] for part in parts]) for name in parts[0]}
    order = np.lexsort((columns["starts"], columns["person"]))
    return {
        name: column[order] if isinstance(column, np.ndarray) else column.gather(order)
        for name, column in columns.items()
    }


def _rule_steps(done: Done, number: int) -> Columns:
    rule, changes = done.account.changes[number]
    row, week, starts, ends = by_week(changes, done.site)
    said = say(changes.says, changes.reason, changes.words, done.spans.zone[changes.punch], done.site)
    other = pl.Series(done.of_rows(changes.other[row])).set(pl.Series(changes.other[row] < 0), None)
    classes = changes.classes or (((None, None),) * len(changes.says))
    return {
        "person": done.spans.person[changes.punch[row]],
        "week": week,
        "rule": pl.repeat(rule.name, len(row), eager=True),
        "starts": starts,
        "ends": ends,
        "seconds": changes.sign[row] * (ends - starts),
        "from_class": _named([was for was, _ in classes], changes.reason[row]),
        "to_class": _named([now for _, now in classes], changes.reason[row]),
        "punch_a": done.of_rows(changes.row[row]),
        "punch_b": other,
        "says": said.gather(row),
        "cites": pl.repeat("; ".join(citation.where for citation in rule.cites), len(row), eager=True),
    }


def _differentials(done: Done) -> Columns:
    return differential_columns(done.spans, done.site)


PARTS: dict[str, tuple[Table, Callable[[Done], Columns], tuple[str, ...]]] = {
    "weeks": (WEEKS, _weeks, ()),
    "classed": (CLASSED, _classed, ()),
    "recorded_spans": (RECORDED_SPANS, _recorded_spans, ()),
    "questions": (QUESTIONS, _questions, ()),
    "steps": (STEPS, _steps, ()),
    "premiums": (PREMIUMS, _premiums, ("person", "workday", "kind")),
    "differentials": (DIFFERENTIALS, _differentials, ("person", "starts", "kind")),
}
"""Each part of the hours: its table, its columns from a block, and its order where blocks do not give it already."""
