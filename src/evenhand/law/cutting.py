"""Cut time at the lines where workweeks and workdays begin."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from evenhand.law.codes import REST, WORK
from evenhand.law.compiling import run_pass
from evenhand.law.site import Site
from evenhand.law.spans import Column, Pieces, Spans
from evenhand.terms.zones import DAY_S

__all__ = ["cut_spans", "line_steps"]


def cut_at_lines(instants: Any, gap: Any, least: int, bounds: Any, act: Any, line: Any, starts: Any, ends: Any) -> int:
    """Fill one piece per act and stretch between lines, for gaps of at least `least`; return their number."""
    pieces = 0
    k = 0
    for i in range(len(gap)):
        if gap[i] < least:
            continue
        begins, finishes = instants[i], instants[i + 1]
        while k > 0 and begins < bounds[k]:
            k -= 1
        while begins >= bounds[k + 1]:
            k += 1
        while begins < finishes:
            cut = min(finishes, bounds[k + 1])
            if begins < cut:
                act[pieces], line[pieces], starts[pieces], ends[pieces] = i, k, begins, cut
                pieces += 1
            begins = cut
            if cut < finishes:
                k += 1
    return pieces


def _cut(spans: Spans, instants: Column, least: int, site: Site, *, by_day: bool) -> Pieces:
    bounds = site.day_bounds if by_day else site.week_bounds
    # A span no longer than `longest_span_s` meets so many lines at most; the shortest day between them has 23 h.
    longest = max(site.policy.longest_span_s, site.policy.meal_s) + DAY_S
    room = len(instants) * (2 + longest // (20 * 3600 if by_day else 6 * DAY_S))
    act, line = np.empty(room, np.int32), np.empty(room, np.int32)
    starts, ends = np.empty(room, np.int64), np.empty(room, np.int64)
    inputs = (instants, spans.gap, least, bounds)
    count = run_pass(cut_at_lines, inputs, (act, line, starts, ends), large=site.large)
    act, line, starts, ends = act[:count], line[:count], starts[:count], ends[:count]
    week = line // 7 if by_day else line
    return Pieces(act, week, line, starts, ends, overtime_from=ends, double_from=ends)


def cut_spans(spans: Spans, site: Site, *, by_day: bool) -> Spans:
    """Return the spans with recorded time cut into workweeks and paid time into workweeks or workdays."""
    recorded = _cut(spans, spans.at, WORK, site, by_day=False)
    if not by_day and spans.pay_at is spans.at and not np.any(spans.gap == REST):
        return replace(spans, recorded=recorded, paid=recorded)
    return replace(spans, recorded=recorded, paid=_cut(spans, spans.pay_at, REST, site, by_day=by_day))


def line_steps(after: Spans, says: str) -> Iterator[dict[str, Any]]:
    """Yield one step, without seconds, per span that runs over a line."""
    paid = after.paid
    for piece in np.flatnonzero((paid.act[1:] == paid.act[:-1]) & (paid.starts[1:] == paid.ends[:-1])) + 1:
        starts, ends = int(paid.starts[piece]), int(paid.ends[piece])
        yield {
            "act": int(paid.act[piece]),
            "other": int(paid.act[piece]) + 1,
            "starts": starts,
            "ends": ends,
            "seconds": 0,
            "says": says,
            "words": {"was": starts, "now": ends},
        }
