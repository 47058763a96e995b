"""Somebody called back after their shift, outside any schedule, is paid for a least time.

Source: the workplace's own policy. What is paid beyond the work done is not time worked (29 CFR 778.221, from memory).
A shift that overlaps no scheduled one counts as a call-back where the person was scheduled earlier on the same or the
day before; without schedules nothing can be told.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from evenhand.law.codes import NOTHING, OFF
from evenhand.law.jurisdiction import Pass
from evenhand.law.scheduled import shifts_of
from evenhand.law.site import Site
from evenhand.law.spans import Owed, Spans
from evenhand.terms.records import Citation
from evenhand.terms.zones import DAY_S

__all__ = ["RULE"]

NAME = "recorded.call_back"
CITES = (Citation("the workplace's policy"), Citation("29 CFR 778.221"))
SAYS = ("called back from {was} to {now}, outside the schedule: {least_for} are paid at least",)


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with what call-backs are owed beyond the time worked."""
    least_s, planned = site.policy.call_back_s, site.planned
    if not least_s or planned is None:
        return spans
    rows: list[tuple[int, ...]] = []
    for punches in shifts_of(spans):
        first, last = punches[0], punches[-1]
        worked = sum(int(spans.at[a + 1] - spans.at[a]) for a in punches[:-1] if spans.gap[a] != OFF)
        if not 0 < worked < least_s or any(spans.asks[a] != NOTHING for a in punches):
            continue
        person = int(spans.person[first])
        mine = slice(int(planned.first[person]), int(planned.first[person + 1]))
        starts, ends = planned.starts[mine], planned.ends[mine]
        outside = not np.any((starts < spans.at[last]) & (ends > spans.at[first]))
        earlier = np.any((ends <= spans.at[first]) & (ends > spans.at[first] - DAY_S))
        if outside and earlier:
            day = int(np.searchsorted(site.day_bounds, spans.at[first], side="right")) - 1
            rows.append((first, day, least_s - worked, int(spans.at[first]), int(spans.at[last]), least_s))
    punch, day_of, seconds, was, now, least = np.array(rows, np.int64).reshape(-1, 6).T
    words = {"was": was, "now": now, "least_for": least}
    reason = np.zeros(len(punch), np.int8)
    return replace(spans, owed=(*spans.owed, Owed(CITES, "call_back", punch, day_of, seconds, SAYS, reason, words)))


RULE = Pass(NAME, CITES, "owes", apply)
