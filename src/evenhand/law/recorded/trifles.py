"""A shift of a few uncertain seconds or minutes is not paid, where the workplace says so.

Source: 29 CFR 785.47: only uncertain and indefinite time of a few seconds or minutes that cannot practically be
recorded may be disregarded, never fixed or ascertainable time. So a call-back, for which the workplace promises a least
time, is no trifle (our reading). What was recorded stays, and each is a step. Some states have not taken over the rule.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from evenhand.law.codes import OFF
from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass, changed
from evenhand.law.recorded.call_back import call_backs_below
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Spans
from evenhand.terms.languages import sentence
from evenhand.terms.records import Citation

__all__ = ["RULE"]

NAME = "recorded.trifles"
CITES = (Citation("the workplace's policy"), Citation("29 CFR 785.47"))
SAYS = (sentence("the shift from {was} to {now} is shorter than the workplace's trifle of {least_for} and not paid"),)


def leave_trifles(person: Any, at: Any, gap: Any, shift: Any, least_s: int, pay_at: Any) -> None:
    """Let shifts that are one run of paid time shorter than `least_s` end, for pay, where they begin."""
    i, n = 0, len(at)
    while i < n:
        j = i
        whole = True
        while j + 1 < n and person[j + 1] == person[i] and shift[j + 1] == shift[i]:
            if gap[j] == OFF:
                whole = False
            j += 1
        if whole and at[j] - at[i] < least_s:
            for k in range(i, j + 1):
                pay_at[k] = pay_at[i]
        i = j + 1


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with shifts shorter than the policy's trifle left without pay."""
    if not site.policy.trifle_s:
        return spans
    pay_at = spans.pay_at.copy()
    inputs = (spans.person, spans.at, spans.gap, spans.shift, site.policy.trifle_s)
    run_pass(leave_trifles, inputs, (pay_at,), large=site.large)
    if site.policy.call_back_s:
        first, _, _ = call_backs_below(spans, site, site.policy.trifle_s)
        begins = np.diff(spans.person, prepend=-1).astype(bool) | np.diff(spans.shift, prepend=-1).astype(bool)
        shift = np.cumsum(begins)
        promised = np.isin(shift, shift[first])
        pay_at[promised] = spans.pay_at[promised]
    return replace(spans, pay_at=pay_at)


def changes(before: Spans, after: Spans, site: Site) -> Changes | None:
    """Return one row per shift left without pay; None where none could be."""
    if after.pay_at is before.pay_at:
        return None
    moved = np.flatnonzero((before.pay_at != after.pay_at) & (after.gap == OFF))
    starts, ends = after.pay_at[moved], before.pay_at[moved]
    words = {"was": starts, "now": ends, "least_for": site.policy.trifle_s}
    return changed(moved - 1, starts, ends, SAYS, words, sign=-1, to_next=True)


RULE = Pass(NAME, CITES, "moves", apply, changes)
