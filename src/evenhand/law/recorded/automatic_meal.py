"""A meal period is deducted without punches only where the workplace says so, and never against the punches.

Source: Wage and Hour Division, Fact Sheet 53, example 9: an automatic deduction stands only where the full meal was
had, which the employer has to make sure of; 29 CFR 785.19. It is not made where a meal was punched, nor where a punch
lies within the time assumed for it; then a step says so. A missed meal is put right by a correction: a punch in that
time.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from evenhand.law.codes import NOTHING, OFF
from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass, changed
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Pieces, Spans
from evenhand.terms.languages import sentence
from evenhand.terms.records import Citation

__all__ = ["RULE"]

NAME = "recorded.automatic_meal"
CITES = (Citation("the workplace's policy"), Citation("29 CFR 785.19"))
SAYS = (
    sentence("a meal period of {length_for} from {was} to {now} was deducted by policy, without punches"),
    sentence("no meal period was deducted from {was} to {now}, though policy assumes one: the punches say otherwise"),
)


def assume_meals(
    person: Any,
    at: Any,
    gap: Any,
    asks: Any,
    shift: Any,
    pay_at: Any,
    length_s: int,
    after_s: int,
    at_s: int,
    punch: Any,
    begins: Any,
    ends: Any,
    allowed: Any,
) -> int:
    """Fill first punch, beginning and end of the meal assumed in each long shift, and whether punches allow it."""
    meals = 0
    i, n = 0, len(at)
    while i < n:
        j = i
        asked, punched, works = asks[i] != NOTHING, False, False
        while j + 1 < n and person[j + 1] == person[i] and shift[j + 1] == shift[i]:
            if gap[j] == OFF:
                punched = True
            else:
                works = True
            j += 1
            if asks[j] != NOTHING:
                asked = True
        starts, stops = pay_at[i] + at_s, min(pay_at[i] + at_s + length_s, pay_at[j])
        if works and not asked and at[j] - at[i] > after_s and starts < stops:
            inside = False
            for k in range(i + 1, j):
                if starts < at[k] < stops:
                    inside = True
            punch[meals], begins[meals], ends[meals] = i, starts, stops
            allowed[meals] = 0 if punched or inside else 1
            meals += 1
        i = j + 1
    return meals


def take_out(
    person: Any,
    punch: Any,
    starts: Any,
    ends: Any,
    who: Any,
    begins: Any,
    stops: Any,
    came: Any,
    out_starts: Any,
    out_ends: Any,
) -> int:
    """Fill the pieces without the meals taken out of them; both are by person and time."""
    pieces, meal = 0, 0
    for piece in range(len(punch)):
        owner, at = person[punch[piece]], starts[piece]
        while meal < len(who) and (who[meal] < owner or (who[meal] == owner and stops[meal] <= at)):
            meal += 1
        k = meal
        while at < ends[piece]:
            cut, resumes = ends[piece], ends[piece]
            if k < len(who) and who[k] == owner and begins[k] < ends[piece]:
                cut, resumes = max(at, begins[k]), stops[k]
                k += 1
            if at < cut:
                came[pieces], out_starts[pieces], out_ends[pieces] = piece, at, cut
                pieces += 1
            at = max(cut, resumes)
    return pieces


def _assumed(spans: Spans, site: Site) -> tuple[Column, Column, Column, Column]:
    meal = site.policy.automatic_meal
    assert meal is not None
    filled = tuple(np.empty(len(spans.at), np.int64) for _ in range(4))
    columns = (spans.person, spans.at, spans.gap, spans.asks, spans.shift, spans.pay_at)
    count = run_pass(assume_meals, (*columns, meal.length_s, meal.after_s, meal.at_s), filled, large=site.large)
    punch, begins, ends, allowed = (column[:count] for column in filled)
    return punch, begins, ends, allowed == 1


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with the meals that policy assumes taken out of paid time."""
    if site.policy.automatic_meal is None:
        return spans
    punch, begins, ends, allowed = _assumed(spans, site)
    who = spans.person[punch[allowed]]
    paid = spans.paid
    room = len(paid.punch) + len(who)
    came, starts, stops = (np.empty(room, np.int64) for _ in range(3))
    inputs = (spans.person, paid.punch, paid.starts, paid.ends, who, begins[allowed], ends[allowed])
    count = run_pass(take_out, inputs, (came, starts, stops), large=site.large)
    came, starts, stops = came[:count], starts[:count], stops[:count]
    return replace(spans, paid=Pieces(paid.punch[came], paid.week[came], paid.day[came], starts, stops, stops, stops))


def changes(before: Spans, after: Spans, site: Site) -> Changes | None:
    """Return one row per meal deducted, and one without seconds where the punches spoke against it."""
    if site.policy.automatic_meal is None:
        return None
    punch, begins, ends, allowed = _assumed(before, site)
    words = {"was": begins, "now": ends, "length_for": ends - begins}
    sign, reason = np.where(allowed, -1, 0), np.where(allowed, 0, 1)
    return changed(punch, begins, ends, SAYS, words, sign=sign, reason=reason)


RULE = Pass(NAME, CITES, "moves", apply, changes)
