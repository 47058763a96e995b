"""Paid rest periods to which the hours of a shift entitle: 10 minutes for every four hours or major part of them.

Source: wage orders, section 12 (from memory): ten minutes net for each four hours or major fraction of them, none in a
day of less than three and a half hours, counted as time worked. Rest periods are not punched, so punches cannot show
whether they were had: what is due is stated, and an hour owed for a missed one (Labor Code 226.7(c)) is for a person
to enter (`law.decide_premiums`).
"""

from __future__ import annotations

from datetime import date

import numpy as np

from evenhand.law.jurisdiction import Pass, changed
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Spans
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["RULE", "rests_due"]

NAME = "california.rest_periods"
CITES = (Citation("IWC wage orders, section 12"), Citation("Cal. Labor Code 226.7"))
NUMBERS = (
    dated(
        "length",
        sentence("The net length of a rest period"),
        "min",
        (date(2000, 1, 1), 10, "IWC wage orders, section 12, from memory"),
    ),
    dated(
        "least",
        sentence("Work below which no rest period is due"),
        "min",
        (date(2000, 1, 1), 210, "IWC wage orders, section 12, from memory"),
    ),
    dated(
        "each",
        sentence("Work for each of which, or the major part of it, a rest period is due"),
        "min",
        (date(2000, 1, 1), 240, "IWC wage orders, section 12, from memory"),
    ),
)
SAYS = (sentence("{worked_for} of work entitle to paid rest periods of {length} minutes: {rests}"),)


def rests_due(worked_s: int, least_s: int, each_s: int) -> int:
    """Return how many rest periods are due for that much work: one for each `each_s` or major fraction."""
    if worked_s < least_s:
        return 0
    return worked_s // each_s + (2 * (worked_s % each_s) > each_s)


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans as they are: rest periods are paid time already."""
    return spans


def _worked_by_shift(spans: Spans) -> tuple[Column, Column]:
    """Return the first punch of each shift and the seconds of paid time in it."""
    begins = np.flatnonzero(np.diff(spans.shift, prepend=-1) | np.diff(spans.person, prepend=-1))
    apart = np.append(np.diff(spans.at), 0) * (spans.gap > 0)
    return begins, np.add.reduceat(apart, begins)


def changes(before: Spans, after: Spans, site: Site) -> Changes:
    """Return one row, without seconds, per shift that entitles to rest periods."""
    punch, worked = _worked_by_shift(after)
    day = site.day_of(after.at[punch])
    length, least_s, each_s = (
        site.by_day(NAME, name, unit)[day] for name, unit in (("length", 1), ("least", 60), ("each", 60))
    )
    due = np.array([rests_due(*row) for row in zip(worked.tolist(), least_s, each_s, strict=True)], np.int64)
    some = np.flatnonzero(due)
    at = after.at[punch[some]]
    words = {"worked_for": worked[some], "rests": due[some], "length": length[some]}
    return changed(punch[some], at, at, SAYS, words)


RULE = Pass(NAME, CITES, "reads", apply, changes, NUMBERS)
