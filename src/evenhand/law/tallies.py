"""Add up the seconds of each person's workweeks, each amount from its own columns."""

from __future__ import annotations

from typing import Any

import numpy as np

from evenhand.law.classing import Account
from evenhand.law.codes import NOTHING
from evenhand.law.compiling import run_pass
from evenhand.law.ordering import Block
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Pieces, Spans

__all__ = ["by_week", "week_of", "week_totals"]


def tally_pieces(
    person: Any,
    punch: Any,
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
    for piece in range(len(punch)):
        slot = (person[punch[piece]] - first) * weeks + week[piece]
        ordinary[slot] += overtime_from[piece] - starts[piece]
        overtime[slot] += double_from[piece] - overtime_from[piece]
        double[slot] += ends[piece] - double_from[piece]


def tally_changes(
    person: Any, punch: Any, starts: Any, ends: Any, sign: Any, bounds: Any, first: int, weeks: int, steps: Any
) -> None:
    """Add the signed seconds of each change to its person's weeks, cut where they begin."""
    k = 0
    for row in range(len(punch)):
        at = starts[row]
        while k > 0 and at < bounds[k]:
            k -= 1
        while at >= bounds[k + 1]:
            k += 1
        week = k
        slot = (person[punch[row]] - first) * weeks
        while at < ends[row]:
            cut = min(ends[row], bounds[week + 1])
            steps[slot + week] += sign[row] * (cut - at)
            at = cut
            week += 1


def week_totals(spans: Spans, account: Account, block: Block, site: Site) -> tuple[Column, ...]:
    """Return person, week, recorded, steps', ordinary, overtime and double seconds, and questions, of each week.

    Weeks with none of them are left out; `week` counts `Site.week_dates`.
    """
    first, last, _, _ = block
    weeks = len(site.week_dates)
    slots = (last - first) * weeks

    def tally(pieces: Pieces, *bounds: Column) -> tuple[Column, ...]:
        totals = tuple(np.zeros(slots, np.int64) for _ in range(3))
        inputs = (spans.person, pieces.punch, pieces.week, pieces.starts, *bounds, pieces.ends, first, weeks)
        run_pass(tally_pieces, inputs, totals, large=site.large)
        return totals

    work, paid = spans.recorded, spans.paid
    recorded, _, _ = tally(work, work.ends, work.ends)
    ordinary, overtime, double = tally(paid, paid.overtime_from, paid.double_from)
    steps = np.zeros(slots, np.int64)
    for rule, changes in account.changes:
        if rule.effect == "moves":
            inputs = (spans.person, changes.punch, changes.starts, changes.ends, changes.sign)
            run_pass(tally_changes, (*inputs, site.week_bounds, first, weeks), (steps,), large=site.large)
    open_at = np.flatnonzero(spans.asks != NOTHING)
    at = (spans.person[open_at] - first) * weeks + week_of(spans.at[open_at], site)
    questions = np.bincount(at, minlength=slots)
    kept = np.flatnonzero(recorded | ordinary | overtime | double | steps | questions)
    columns = (recorded, steps, ordinary, overtime, double, questions)
    return (kept // weeks + first, kept % weeks, *(column[kept] for column in columns))


def by_week(changes: Changes, site: Site) -> tuple[Column, Column, Column, Column]:
    """Return changes cut where workweeks begin: each part's row, week, beginning and end.

    What adds or takes no time is not cut, and belongs to the week in which it begins.
    """
    week = week_of(changes.starts, site)
    last = np.where(changes.sign != 0, week_of(changes.ends - 1, site), week)
    if np.array_equal(week, last):
        return np.arange(len(week)), week, changes.starts, changes.ends
    many = last - week + 1
    row = np.repeat(np.arange(len(week)), many)
    week = week[row] + np.arange(len(row)) - np.repeat(np.cumsum(many) - many, many)
    starts, ends = changes.starts[row], changes.ends[row]
    counts = changes.sign[row] != 0
    starts = np.where(counts, np.maximum(starts, site.week_bounds[week]), starts)
    ends = np.where(counts, np.minimum(ends, site.week_bounds[week + 1]), ends)
    return row, week, starts, ends


def week_of(instants: Column, site: Site) -> Column:
    """Return the workweek each instant lies in, as an index into `Site.week_dates`."""
    week: Column = np.searchsorted(site.week_bounds, instants, side="right") - 1
    return week
