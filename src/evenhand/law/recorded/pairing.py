"""Pair starts with ends: recorded spans, shifts, and the questions that punches leave open.

Source: common practice, no source. A missing punch is never invented: 29 CFR 516.2(a)(7) wants hours worked, so
an odd punch is a question, and what is known is paid meanwhile.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from evenhand.law.codes import IN, LONG_SPAN, MISSING_IN, MISSING_OUT, NOTHING, OFF, OUT, SAME_TIME, UNMARKED, WORK
from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass, changed
from evenhand.law.recorded.civil import civil_seconds
from evenhand.law.recorded.readings import read_certain, read_doubtful
from evenhand.law.scheduled import scheduled_way
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Spans
from evenhand.terms.languages import sentence
from evenhand.terms.records import Citation

__all__ = ["RULE"]

NAME = "recorded.pairing"
CITES = (Citation(sentence("common practice, no source")), Citation("29 CFR 516.2(a)(7)"))
SAYS = (
    sentence(
        "the punch at {was} is marked as a start and read as an end: as marked the punches cannot follow each other, "
        "alternating they make breaks of no more than an hour and work of no less"
    ),
    sentence(
        "the punch at {was} is marked as an end and read as a start: as marked the punches cannot follow each other, "
        "alternating they make breaks of no more than an hour and work of no less"
    ),
)


def pair_punches(
    person: Any,
    at: Any,
    reading: Any,
    longest_s: int,
    long_s: int,
    shift_gap_s: int,
    gap: Any,
    asks: Any,
    shift: Any,
) -> None:
    """Fill what lies between each punch and the next, what the punch leaves open, and the person's shift number."""
    number = 0
    n = len(at)
    for i in range(n):
        first = i == 0 or person[i] != person[i - 1]
        if first:
            number = 1
        elif gap[i - 1] == OFF and at[i] - at[i - 1] > shift_gap_s:
            number += 1
        shift[i] = number
        gap[i] = OFF
        asks[i] = NOTHING
        if reading[i] == IN:
            ended = i + 1 < n and person[i + 1] == person[i] and reading[i + 1] == OUT
            apart = at[i + 1] - at[i] if ended else 0
            if not ended or apart > longest_s:
                asks[i] = MISSING_OUT
            elif apart == 0:
                asks[i] = SAME_TIME
            else:
                gap[i] = WORK
                if apart > long_s:
                    asks[i] = LONG_SPAN
        elif first or (gap[i - 1] == OFF and asks[i - 1] != SAME_TIME):
            asks[i] = MISSING_IN


def _read(spans: Spans, site: Site) -> Spans:
    punches = len(spans.at)
    reading = np.empty(punches, np.int8)
    lows, highs = np.empty(punches, np.int32), np.empty(punches, np.int32)
    toward = scheduled_way(spans, site)
    inputs = (spans.person, spans.at, spans.mark, toward, site.policy.longest_span_s)
    doubtful = run_pass(read_certain, inputs, (reading, lows, highs), large=site.large)
    if doubtful:
        cost, came = np.empty(2 * punches, np.int64), np.empty(2 * punches, np.int8)
        spans = replace(spans, local=civil_seconds(spans, site))
        columns = (spans.person, spans.at, spans.local, spans.mark, toward, lows[:doubtful], highs[:doubtful])
        settings = (doubtful, site.policy.shift_gap_s)
        run_pass(read_doubtful, (*columns, *settings), (cost, came, reading), large=site.large)
    return replace(spans, reading=reading)


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with readings, gaps, shifts and open questions."""
    punches = len(spans.at)
    spans = _read(spans, site)
    gap, asks, shift = np.empty(punches, np.int8), np.empty(punches, np.int8), np.empty(punches, np.int32)
    policy = site.policy
    inputs = (spans.person, spans.at, spans.reading, policy.longest_span_s, policy.long_span_s, policy.shift_gap_s)
    run_pass(pair_punches, inputs, (gap, asks, shift), large=site.large)
    return replace(spans, gap=gap, paired=gap, asks=asks, shift=shift)


def changes(before: Spans, after: Spans, site: Site) -> Changes:
    """Return one row, without seconds, per mark that was not believed; what else is open is a question."""
    punch = np.flatnonzero((after.mark != UNMARKED) & (after.mark != after.reading))
    at = after.at[punch]
    return changed(punch, at, at, SAYS, {"was": at}, reason=after.mark[punch] - IN)


RULE = Pass(NAME, CITES, "reads", apply, changes)
