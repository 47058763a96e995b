"""Limits past which time changes its class, as passes over the pieces of paid time.

Each second has one class and a limit counts only seconds still ordinary, so that no hour is counted toward two
limits: what lies past the daily limits is left out of the weekly count. For a daily and a longer limit together that
gives the larger of the two excesses, never their sum.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from evenhand.law.compiling import run_pass
from evenhand.law.site import Site
from evenhand.law.spans import Column, Pieces, Spans

__all__ = ["class_steps", "past_daily_limits", "past_limit"]


def class_past_limit(
    person: Any, act: Any, period: Any, starts: Any, was_from: Any, limits_s: Any, overtime_from: Any
) -> None:
    """Fill the instant from which each piece's ordinary time lies past its period's limit."""
    worked, owner, current = 0, -1, -1
    for piece in range(len(act)):
        if person[act[piece]] != owner or period[piece] != current:
            owner, current = person[act[piece]], period[piece]
            worked = 0
        left = max(0, limits_s[current] - worked)
        overtime_from[piece] = min(was_from[piece], starts[piece] + left)
        worked += was_from[piece] - starts[piece]


def past_limit(spans: Spans, site: Site, period: Column, limits_s: Column) -> Spans:
    """Return the spans with ordinary time past `limits_s` [s], by period, turned into overtime."""
    paid = spans.paid
    overtime_from = np.empty(len(paid.act), np.int64)
    inputs = (spans.person, paid.act, period, paid.starts, paid.overtime_from, limits_s)
    run_pass(class_past_limit, inputs, (overtime_from,), large=site.large)
    return replace(spans, paid=replace(paid, overtime_from=overtime_from))


def class_past_daily_limits(
    person: Any,
    act: Any,
    day: Any,
    starts: Any,
    ends: Any,
    over_s: Any,
    double_s: Any,
    overtime_from: Any,
    double_from: Any,
) -> None:
    """Fill the instants from which each piece lies past its workday's limits."""
    worked, owner, current = 0, -1, -1
    for piece in range(len(act)):
        if person[act[piece]] != owner or day[piece] != current:
            owner, current = person[act[piece]], day[piece]
            worked = 0
        overtime_from[piece] = min(ends[piece], starts[piece] + max(0, over_s[current] - worked))
        double_from[piece] = min(ends[piece], starts[piece] + max(0, double_s[current] - worked))
        worked += ends[piece] - starts[piece]


def past_daily_limits(spans: Spans, site: Site, over_s: Column, double_s: Column | None = None) -> Spans:
    """Return the spans with time past `over_s` [s] a workday as overtime, and past `double_s` as double time."""
    paid = spans.paid
    overtime_from, double_from = np.empty(len(paid.act), np.int64), np.empty(len(paid.act), np.int64)
    never = np.full(len(over_s), np.iinfo(np.int64).max // 2)
    inputs = (spans.person, paid.act, paid.day, paid.starts, paid.ends, over_s, never if double_s is None else double_s)
    run_pass(class_past_daily_limits, inputs, (overtime_from, double_from), large=site.large)
    return replace(spans, paid=replace(paid, overtime_from=overtime_from, double_from=double_from))


def class_steps(
    before: Pieces, after: Pieces, says: str, words: Callable[[int], dict[str, Any]]
) -> Iterator[dict[str, Any]]:
    """Yield one step per stretch of a piece that changed its class; it moves time and adds none."""
    changed = (before.overtime_from != after.overtime_from) | (before.double_from != after.double_from)
    for piece in np.flatnonzero(changed):
        was = (int(before.overtime_from[piece]), int(before.double_from[piece]))
        now = (int(after.overtime_from[piece]), int(after.double_from[piece]))
        for from_class, to_class, starts, ends in (
            ("ordinary", "overtime", now[0], min(was[0], now[1])),
            ("ordinary", "double", now[1], was[0]),
            ("overtime", "double", max(now[1], was[0]), was[1]),
        ):
            if starts < ends:
                yield {
                    "act": int(after.act[piece]),
                    "other": int(after.act[piece]) + 1,
                    "starts": starts,
                    "ends": ends,
                    "seconds": 0,
                    "from_class": from_class,
                    "to_class": to_class,
                    "says": says,
                    "words": {"was": starts, "now": ends, "class": CALLED[to_class], **words(int(piece))},
                }


CALLED = {"overtime": "overtime", "double": "double time"}
