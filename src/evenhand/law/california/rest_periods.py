"""Paid rest periods to which the hours of a shift entitle: 10 minutes for every four hours or major part of them.

Source: wage orders, section 12 (from memory): ten minutes net for each four hours or major fraction of them, none in a
day of less than three and a half hours, counted as time worked. Rest periods are not punched, so punches cannot show
whether they were had: what is due is stated, and an hour owed for a missed one (Labor Code 226.7(c)) is for a person
to enter.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from evenhand.law.site import Site
from evenhand.law.spans import Column, Spans
from evenhand.terms.records import Citation

__all__ = ["CITES", "NAME", "SAYS", "apply", "rests_due", "steps"]

NAME = "california.rest_periods"
CITES = (Citation("IWC wage orders, section 12"), Citation("Cal. Labor Code 226.7"))
SAYS = "{worked_for} of work entitle to paid rest periods of {length} minutes: {rests}"


def rests_due(worked_s: int, least_s: int, each_s: int) -> int:
    """Return how many rest periods are due for that much work: one for each `each_s` or major fraction."""
    if worked_s < least_s:
        return 0
    return worked_s // each_s + (2 * (worked_s % each_s) > each_s)


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans as they are: rest periods are paid time already."""
    return spans


def _worked_by_shift(spans: Spans) -> tuple[Column, Column]:
    """Return the first act of each shift and the seconds of paid time in it."""
    begins = np.flatnonzero(np.diff(spans.shift, prepend=-1) | np.diff(spans.person, prepend=-1))
    apart = np.append(np.diff(spans.at), 0) * (spans.gap > 0)
    return begins, np.add.reduceat(apart, begins)


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step, without seconds, per shift that entitles to rest periods."""
    for act, worked in zip(*_worked_by_shift(after), strict=True):
        starts = int(after.at[act])
        day = site.day_dates[int(np.searchsorted(site.day_bounds, starts, side="right")) - 1]
        length, least, each = (site.parameter(NAME, name).on(day) for name in ("length", "least", "each"))
        if due := rests_due(int(worked), least * 60, each * 60):
            yield {
                "act": int(act),
                "starts": starts,
                "ends": starts,
                "seconds": 0,
                "says": SAYS,
                "words": {"worked_for": int(worked), "rests": due, "length": length},
            }
