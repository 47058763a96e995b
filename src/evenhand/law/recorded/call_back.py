"""Somebody called back after their shift, outside any schedule, is paid for a least time.

Source: the workplace's own policy. What is paid beyond the work done is not time worked (29 CFR 778.221, from memory).
A shift that overlaps no scheduled one counts as a call-back where the person was scheduled earlier on the same or the
day before; without schedules nothing can be told.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from evenhand.law.codes import NOTHING, OFF
from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass
from evenhand.law.site import Site
from evenhand.law.spans import Owed, Spans
from evenhand.terms.languages import sentence
from evenhand.terms.records import Citation
from evenhand.terms.zones import DAY_S

__all__ = ["RULE", "call_backs_below"]

NAME = "recorded.call_back"
CITES = (Citation("the workplace's policy"), Citation("29 CFR 778.221"))
SAYS = (sentence("called back from {was} to {now}, outside the schedule: {least_for} are paid at least"),)


def list_call_backs(
    person: Any,
    at: Any,
    gap: Any,
    asks: Any,
    shift: Any,
    first: Any,
    starts: Any,
    ends: Any,
    least_s: int,
    punch: Any,
    last_at: Any,
    worked_s: Any,
) -> int:
    """Fill the short shifts outside the schedule that follow a scheduled one within a day; return their number."""
    found = 0
    i, n = 0, len(at)
    while i < n:
        j, worked, is_open = i, 0, asks[i] != NOTHING
        while j + 1 < n and person[j + 1] == person[i] and shift[j + 1] == shift[i]:
            if gap[j] != OFF:
                worked += at[j + 1] - at[j]
            j += 1
            if asks[j] != NOTHING:
                is_open = True
        if 0 < worked < least_s and not is_open:
            outside, earlier = True, False
            for k in range(first[person[i]], first[person[i] + 1]):
                if starts[k] < at[j] and ends[k] > at[i]:
                    outside = False
                if at[i] - DAY_S < ends[k] <= at[i]:
                    earlier = True
            if outside and earlier:
                punch[found], last_at[found], worked_s[found] = i, at[j], worked
                found += 1
        i = j + 1
    return found


def call_backs_below(spans: Spans, site: Site, least_s: int) -> tuple[Any, Any, Any]:
    """Return first punch, end and seconds worked of each call-back shorter than `least_s`; none without schedules."""
    filled = tuple(np.empty(len(spans.at), np.int64) for _ in range(3))
    count, planned = 0, site.planned
    if planned is not None:
        columns = (spans.person, spans.at, spans.gap, spans.asks, spans.shift)
        inputs = (*columns, planned.first, planned.starts, planned.ends, least_s)
        count = run_pass(list_call_backs, inputs, filled, large=site.large)
    punch, last_at, worked = (column[:count] for column in filled)
    return punch, last_at, worked


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with what call-backs are owed beyond the time worked."""
    least_s = site.policy.call_back_s
    if not least_s or site.planned is None:
        return spans
    punch, last_at, worked = call_backs_below(spans, site, least_s)
    day = site.day_of(spans.at[punch])
    words = {"was": spans.at[punch], "now": last_at, "least_for": np.full(len(punch), least_s)}
    reason = np.zeros(len(punch), np.int8)
    owed = Owed(CITES, "call_back", punch, day, least_s - worked, SAYS, reason, words)
    return replace(spans, owed=(*spans.owed, owed))


RULE = Pass(NAME, CITES, "owes", apply)
