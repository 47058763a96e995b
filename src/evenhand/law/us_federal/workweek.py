"""Cut time where one workweek ends and the next begins; each workweek stands alone.

Source: 29 CFR 778.104 (no averaging) and 778.105 (a fixed and regularly recurring period of 168 hours). The
line is a civil time in the site's zone, so over a clock change the week has 167 or 169 elapsed hours.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from evenhand.law.codes import REST, WORK
from evenhand.law.compiling import run_pass
from evenhand.law.spans import Column, Pieces, Site, Spans
from evenhand.terms.records import Citation
from evenhand.terms.zones import DAY_S

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "us_federal.workweek"
CITES = (Citation("29 CFR 778.105"),)
SAYS = "the time from {was} to {now} falls in the workweek that begins at {was}"


def cut_at_workweeks(
    instants: Any, gap: Any, least: int, bounds: Any, act: Any, week: Any, starts: Any, ends: Any
) -> int:
    """Fill one piece per act and workweek for gaps that are at least `least`; return the number of pieces."""
    pieces = 0
    w = 0
    for i in range(len(gap)):
        if gap[i] < least:
            continue
        begins, finishes = instants[i], instants[i + 1]
        while w > 0 and begins < bounds[w]:
            w -= 1
        while begins >= bounds[w + 1]:
            w += 1
        while begins < finishes:
            cut = min(finishes, bounds[w + 1])
            act[pieces], week[pieces], starts[pieces], ends[pieces] = i, w, begins, cut
            pieces += 1
            begins = cut
            if cut < finishes:
                w += 1
    return pieces


def _cut(spans: Spans, instants: Column, least: int, site: Site) -> Pieces:
    # A span no longer than `longest_span_s` meets at most so many workweek lines; the shortest week has 167 h.
    room = len(instants) * (2 + max(site.policy.longest_span_s, site.policy.meal_s) // (6 * DAY_S))
    act, week = np.empty(room, np.int32), np.empty(room, np.int32)
    starts, ends = np.empty(room, np.int64), np.empty(room, np.int64)
    inputs = (instants, spans.gap, least, site.week_bounds)
    count = run_pass(cut_at_workweeks, inputs, (act, week, starts, ends), large=site.large)
    return Pieces(act[:count], week[:count], starts[:count], ends[:count], ends[:count])


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with recorded and paid time cut into workweeks."""
    recorded = _cut(spans, spans.at, WORK, site)
    paid = recorded if spans.pay_at is spans.at and not np.any(spans.gap == REST) else None
    return replace(spans, recorded=recorded, paid=paid or _cut(spans, spans.pay_at, REST, site))


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step, without seconds, per span that runs over a workweek's beginning."""
    act = after.paid.act
    for piece in np.flatnonzero(act[1:] == act[:-1]) + 1:
        starts, ends = int(after.paid.starts[piece]), int(after.paid.ends[piece])
        yield {
            "act": int(act[piece]),
            "other": int(act[piece]) + 1,
            "starts": starts,
            "ends": ends,
            "seconds": 0,
            "says": SAYS,
            "words": {"was": starts, "now": ends},
        }
