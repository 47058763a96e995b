"""Short rest breaks are paid; a bona fide meal period is not.

Source: 29 CFR 785.18 (rest of 5 to about 20 minutes is work) and 785.19 (a meal is ordinarily 30 minutes or
more, wholly relieved from duty). A break between the two is work unless the workplace's policy says otherwise.
Each break is judged alone, on the punches as recorded: three of ten minutes never add up to a meal (Wage and
Hour Division, Fact Sheet 53, example 11).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np

from evenhand.law.codes import IN, OFF, REST, WORK
from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass, changed
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Spans
from evenhand.terms.languages import sentence, told
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation, Refusal

__all__ = ["RULE"]

NAME = "us_federal.rest_breaks"
CITES = (Citation("29 CFR 785.18"), Citation("29 CFR 785.19"))
SAYS = (sentence("the break from {was} to {now} is shorter than {meal} minutes: paid rest, not a meal"),)

PAID_REST = dated(
    "paid_rest",
    sentence("A rest break up to this length is work; no policy may leave it unpaid"),
    "s",
    (
        date(1961, 1, 11),
        1200,
        "29 CFR 785.18 (rest periods of 5 minutes to about 20 minutes); date of effect from memory",
    ),
)


def pay_short_breaks(person: Any, at: Any, reading: Any, shift: Any, meal_s: int, gap: Any) -> None:
    """Turn a gap between two spans of work in one shift into paid rest where it is shorter than a meal."""
    for i in range(1, len(at) - 2):
        if (
            gap[i] == OFF
            and gap[i - 1] == WORK
            and gap[i + 1] == WORK
            and person[i] == person[i + 1]
            and shift[i] == shift[i + 1]
            and reading[i + 1] == IN
            and at[i + 1] - at[i] < meal_s
        ):
            gap[i] = REST


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with short breaks paid; raises Refusal where the policy would leave a rest break unpaid."""
    meal_s = site.policy.meal_s
    paid_rest_s = site.parameter(NAME, PAID_REST.name).on(site.week_dates[0])
    if meal_s <= paid_rest_s:
        raise Refusal(
            told(
                "meal_minutes of [policy] is {meal_s:g}, which would leave rest breaks of up to "
                "{paid_rest_s} minutes unpaid (29 CFR 785.18); set it above {paid_rest_s}, ordinarily to 30 "
                "(29 CFR 785.19).",
                meal_s=meal_s / 60,
                paid_rest_s=paid_rest_s // 60,
            )
        )
    gap = spans.gap.copy()
    inputs = (spans.person, spans.at, spans.reading, spans.shift, meal_s)
    run_pass(pay_short_breaks, inputs, (gap,), large=site.large)
    return replace(spans, gap=gap)


def changes(before: Spans, after: Spans, site: Site) -> Changes:
    """Return one row per break that became paid."""
    punch = np.flatnonzero(before.gap != after.gap)
    starts, ends = after.at[punch], after.at[punch + 1]
    words = {"was": starts, "now": ends, "meal": site.policy.meal_s // 60}
    return changed(punch, starts, ends, SAYS, words, sign=1, to_next=True)


RULE = Pass(NAME, CITES, "moves", apply, changes, (PAID_REST,))
