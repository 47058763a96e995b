"""A shift split by an unpaid gap of more than an hour may owe an hour's pay at the minimum wage.

Source: wage orders, sections 2 and 4(C) (second hand): a schedule interrupted by unpaid periods of the employer's
making, other than bona fide rest or meal periods. What is owed is one hour at the minimum wage, less what the workday
paid above the minimum wage (Aleman v. AirTouch, 209 Cal.App.4th 556, second hand). Whose making the gap was the punches
cannot tell: the row asks for that. A gap of any length within a workday counts, also one after which the workplace sees
another shift; but not that between two shifts of which the first began in an earlier workday, as of nights in a row
(Securitas v. Superior Court, 197 Cal.App.4th 115, 2011).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np

from evenhand.law.codes import OFF
from evenhand.law.jurisdiction import Pass
from evenhand.law.site import Site
from evenhand.law.spans import Owed, Spans
from evenhand.law.worked_shifts import shift_begins
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["RULE"]

NAME = "california.split_shift"
CITES = (Citation("IWC wage orders, section 4(C)"),)
NUMBERS = (
    dated(
        "longest_meal",
        sentence("A gap longer than this is no meal period but splits the shift"),
        "min",
        (date(2000, 1, 1), 60, "IWC wage orders, section 4(C), as guidance reads it (second hand)"),
    ),
)
SAYS = (
    sentence(
        "an unpaid gap of {gap_for} from {was} to {now} splits the shift: an hour at the minimum wage, less what the "
        "workday paid above it, unless the person asked for the gap"
    ),
)


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with an hour owed for each workday whose shift is split."""
    longest_s = site.by_day(NAME, "longest_meal", 60)
    gap = spans.gap
    punch = 1 + np.flatnonzero(
        (gap[1:-2] == OFF) & (gap[:-3] > OFF) & (gap[2:-1] > OFF) & (spans.person[1:-2] == spans.person[2:-1])
    )
    day = site.day_of(spans.at[punch])
    apart = spans.at[punch + 1] - spans.at[punch]
    splits = (apart > longest_s[day]) & (spans.at[punch + 1] < site.day_bounds[day + 1])
    begins = spans.at[shift_begins(spans)[punch]]
    splits &= (begins >= site.day_bounds[day]) | (spans.shift[punch] == spans.shift[punch + 1])
    punch, day, apart = punch[splits], day[splits], apart[splits]
    once = np.ones(len(punch), np.bool_)
    once[1:] = (np.diff(day) != 0) | (np.diff(spans.person[punch]) != 0)
    punch, day, apart = punch[once], day[once], apart[once]
    words = {"was": spans.at[punch], "now": spans.at[punch + 1], "gap_for": apart}
    seconds, reason = np.full(len(punch), 3600, np.int64), np.zeros(len(punch), np.int8)
    return replace(spans, owed=(*spans.owed, Owed(CITES, "split_shift", punch, day, seconds, SAYS, reason, words)))


RULE = Pass(NAME, CITES, "owes", apply, numbers=NUMBERS)
