"""Rules that cut time where workweeks and workdays begin; each jurisdiction gives them its own citation."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, ClassVar

import numpy as np

from evenhand.law.codes import REST, WORK
from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Effect, changed
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Pieces, Spans
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import Parameter
from evenhand.terms.records import Citation
from evenhand.terms.zones import DAY_S

__all__ = ["Workday", "Workweek"]


def cut_at_lines(
    instants: Any, gap: Any, least: int, bounds: Any, punch: Any, line: Any, starts: Any, ends: Any
) -> int:
    """Fill one piece per punch and stretch between lines, for gaps of at least `least`; return their number."""
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
                punch[pieces], line[pieces], starts[pieces], ends[pieces] = i, k, begins, cut
                pieces += 1
            begins = cut
            if cut < finishes:
                k += 1
    return pieces


def _recorded(spans: Spans, site: Site) -> Pieces:
    return _cut(spans.at, spans.paired, WORK, site, by_day=False)


def _cut(instants: Column, gap: Column, least: int, site: Site, *, by_day: bool) -> Pieces:
    bounds = site.day_bounds if by_day else site.week_bounds
    # A span no longer than `longest_span_s` meets so many lines at most; the shortest day between them has 23 h.
    longest = max(site.policy.longest_span_s, site.policy.meal_s) + DAY_S
    room = len(instants) * (2 + longest // (20 * 3600 if by_day else 6 * DAY_S))
    punch, line = np.empty(room, np.int32), np.empty(room, np.int32)
    starts, ends = np.empty(room, np.int64), np.empty(room, np.int64)
    inputs = (instants, gap, least, bounds)
    count = run_pass(cut_at_lines, inputs, (punch, line, starts, ends), large=site.large)
    punch, line, starts, ends = punch[:count], line[:count], starts[:count], ends[:count]
    week = line // 7 if by_day else line
    return Pieces(punch, week, line, starts, ends, overtime_from=ends, double_from=ends)


@dataclass(frozen=True)
class Workweek:
    """A rule: time is cut where one workweek ends and the next begins.

    The line is a civil time in the site's zone, so that over a clock change the week has 167 or 169 elapsed hours.
    """

    name: str
    cites: tuple[Citation, ...]
    effect: ClassVar[Effect] = "cuts"
    numbers: ClassVar[tuple[Parameter, ...]] = ()
    says: ClassVar[str] = sentence("the time from {was} to {now} falls in the workweek that begins at {was}")

    def apply(self, spans: Spans, site: Site) -> Spans:
        """Return the spans with recorded and paid time cut into workweeks."""
        recorded = _recorded(spans, site)
        return replace(spans, recorded=recorded, paid=_cut(spans.pay_at, spans.gap, REST, site, by_day=False))

    def changes(self, before: Spans, after: Spans, site: Site) -> Changes:
        """Return one row, without seconds, per span that runs over a line."""
        paid = after.paid
        piece = np.flatnonzero((paid.punch[1:] == paid.punch[:-1]) & (paid.starts[1:] == paid.ends[:-1])) + 1
        starts, ends = paid.starts[piece], paid.ends[piece]
        return changed(paid.punch[piece], starts, ends, (self.says,), {"was": starts, "now": ends}, to_next=True)


@dataclass(frozen=True)
class Workday(Workweek):
    """A rule: paid time is cut at workdays, recorded time at workweeks.

    A workday is a fixed civil 24 hours that begins at the time of day at which the workweek begins; over a clock
    change it has 23 or 25 elapsed hours.
    """

    says: ClassVar[str] = sentence("the time from {was} to {now} falls in the workday that begins at {was}")

    def apply(self, spans: Spans, site: Site) -> Spans:
        """Return the spans with paid time cut into workdays, and recorded time into workweeks."""
        recorded = _recorded(spans, site)
        return replace(spans, recorded=recorded, paid=_cut(spans.pay_at, spans.gap, REST, site, by_day=True))
