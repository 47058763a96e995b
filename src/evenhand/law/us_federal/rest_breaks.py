"""Short rest breaks are paid; a bona fide meal period is not.

Source: 29 CFR 785.18 (rest of 5 to about 20 minutes is work) and 785.19 (a meal is ordinarily 30 minutes or
more, wholly relieved from duty). A break between the two is work unless the workplace's policy says otherwise.
Each break is judged alone, on the punches as recorded: three of ten minutes never add up to a meal (Wage and
Hour Division, Fact Sheet 53, example 11).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from evenhand.law.codes import IN, OFF, REST, WORK
from evenhand.law.compiling import run_pass
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.records import Citation, Refusal

__all__ = ["CITES", "NAME", "SAYS", "apply", "steps"]

NAME = "us_federal.rest_breaks"
CITES = (Citation("29 CFR 785.18"), Citation("29 CFR 785.19"))
SAYS = "the break from {was} to {now} is shorter than {meal} minutes: paid rest, not a meal"


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
    paid_rest_s = site.parameter(NAME, "paid_rest").on(site.week_dates[0])
    if meal_s <= paid_rest_s:
        raise Refusal(
            f"the policy's meal_s is {meal_s}, which would leave rest breaks of up to {paid_rest_s // 60} minutes "
            f"unpaid (29 CFR 785.18); set it above {paid_rest_s}, ordinarily to 1800 (29 CFR 785.19)."
        )
    gap = spans.gap.copy()
    inputs = (spans.person, spans.at, spans.reading, spans.shift, meal_s)
    run_pass(pay_short_breaks, inputs, (gap,), large=site.large)
    return replace(spans, gap=gap)


def steps(before: Spans, after: Spans, site: Site) -> Iterator[dict[str, Any]]:
    """Yield one step per break that became paid."""
    for act in np.flatnonzero(before.gap != after.gap):
        starts, ends = int(after.at[act]), int(after.at[act + 1])
        yield {
            "act": int(act),
            "other": int(act) + 1,
            "starts": starts,
            "ends": ends,
            "seconds": ends - starts,
            "says": SAYS,
            "words": {"was": starts, "now": ends, "meal": site.policy.meal_s // 60},
        }
