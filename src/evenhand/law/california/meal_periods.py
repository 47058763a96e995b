"""A meal period begins by the end of the fifth hour of work, a second by the end of the tenth; else an hour is owed.

Source: Labor Code 512(a): a meal period of not less than 30 minutes for a work period of more than five hours, a second
for more than ten; the first may be waived by both where the day's work is no more than six hours, the second where it
is no more than twelve and the first was not waived. Labor Code 226.7(c): one hour's pay for each workday. 11 Cal.5th 58
(2021): a record of a short, late or missing meal raises a presumption that it was not provided, which evidence may
rebut, and meal punches are never rounded. Hours of work are counted within the shift, meals left out (our reading).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np

from evenhand.law.codes import OFF, WORK
from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass
from evenhand.law.site import Site
from evenhand.law.spans import Owed, Spans
from evenhand.terms.languages import sentence
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation

__all__ = ["RULE"]

NAME = "california.meal_periods"
CITES = (Citation("Cal. Labor Code 512(a)"), Citation("Cal. Labor Code 226.7(c)"), Citation("11 Cal.5th 58 (2021)"))
SAYS = (
    sentence(
        "no first meal period of 30 minutes was recorded in a shift of {worked_for} of work; it had to begin by {was}, "
        "the end of the fifth hour (longest break {longest_for})"
    ),
    sentence(
        "the first meal period of 30 minutes began at {now}; it had to begin by {was}, the end of the fifth hour "
        "of work"
    ),
    sentence(
        "no second meal period of 30 minutes was recorded in a shift of {worked_for} of work; it had to begin by "
        "{was}, the end of the tenth hour (longest break {longest_for})"
    ),
    sentence(
        "the second meal period of 30 minutes began at {now}; it had to begin by {was}, the end of the tenth hour "
        "of work"
    ),
)

NUMBERS = (
    dated(
        "premium",
        sentence("Hours of pay owed for a workday on which a meal period was not provided"),
        "h",
        (date(2001, 1, 1), 1, "Cal. Labor Code 226.7(c); date of effect from memory"),
    ),
    dated(
        "length",
        sentence("The least length of a meal period"),
        "min",
        (date(2000, 1, 1), 30, "Cal. Labor Code 512(a); date of effect from memory"),
    ),
    dated(
        "first_after",
        sentence("Work beyond which a first meal period is due, and by whose end it begins"),
        "min",
        (date(2000, 1, 1), 300, "Cal. Labor Code 512(a); date of effect from memory"),
    ),
    dated(
        "first_waivable",
        sentence("The longest work for which both may waive the first meal period"),
        "min",
        (date(2000, 1, 1), 360, "Cal. Labor Code 512(a); date of effect from memory"),
    ),
    dated(
        "second_after",
        sentence("Work beyond which a second meal period is due, and by whose end it begins"),
        "min",
        (date(2000, 1, 1), 600, "Cal. Labor Code 512(a); date of effect from memory"),
    ),
    dated(
        "second_waivable",
        sentence("The longest work for which both may waive the second meal period, the first not being waived"),
        "min",
        (date(2000, 1, 1), 720, "Cal. Labor Code 512(a); date of effect from memory"),
    ),
)
LIMITS = ("first_after", "first_waivable", "second_after", "second_waivable", "length")


def find_meals_owed(
    person: Any,
    at: Any,
    gap: Any,
    shift: Any,
    day_bounds: Any,
    waived: Any,
    first_after: Any,
    first_waivable: Any,
    second_after: Any,
    second_waivable: Any,
    least: Any,
    owed_punch: Any,
    owed_day: Any,
    reason: Any,
    due_at: Any,
    began_at: Any,
    worked_s: Any,
    longest_s: Any,
) -> int:
    """Fill one row per person and workday whose meal periods were missing, short or late; return their number.

    The limits hold seconds by workday; those of the workday in which the shift begins apply.
    """
    rows = 0
    day, owner, last_day = 0, -1, -1
    i, n = 0, len(at)
    while i < n:
        j = i
        while j + 1 < n and person[j + 1] == person[i] and shift[j + 1] == shift[i]:
            j += 1
        while day > 0 and at[i] < day_bounds[day]:
            day -= 1
        while at[i] >= day_bounds[day + 1]:
            day += 1
        today = day
        worked, longest, meals = 0, 0, 0
        first_worked = second_worked = first_at = second_at = first_due = second_due = -1
        for k in range(i, j):
            apart = at[k + 1] - at[k]
            if gap[k] != OFF:
                if first_due < 0 and worked + apart >= first_after[today]:
                    first_due = at[k] + first_after[today] - worked
                if second_due < 0 and worked + apart >= second_after[today]:
                    second_due = at[k] + second_after[today] - worked
                worked += apart
            if gap[k] != WORK and k > i and k + 1 < j and gap[k - 1] != OFF and gap[k + 1] != OFF:
                longest = max(longest, apart)
                if gap[k] == OFF and apart >= least[today]:
                    meals += 1
                    if meals == 1:
                        first_worked, first_at = worked, at[k]
                    elif meals == 2:
                        second_worked, second_at = worked, at[k]
        if person[i] != owner:
            owner, last_day = person[i], -1
        first_waived = waived[person[i]] & 1 and worked <= first_waivable[today]
        second_waived = waived[person[i]] & 2 and worked <= second_waivable[today] and meals > 0
        for which in range(2):
            if which == 0:
                due, began = first_due, first_at
                fails = worked > first_after[today] and not first_waived
                fails = fails and (meals < 1 or first_worked > first_after[today])
            else:
                due, began = second_due, second_at
                fails = worked > second_after[today] and not second_waived
                fails = fails and (meals < 2 or second_worked > second_after[today])
            if not fails:
                continue
            while due >= day_bounds[day + 1]:
                day += 1
            if day == last_day:
                continue
            last_day = day
            owed_punch[rows], owed_day[rows] = i, day
            reason[rows] = 2 * which + (1 if began >= 0 else 0)
            due_at[rows], began_at[rows] = due, max(began, due)
            worked_s[rows], longest_s[rows] = worked, longest
            rows += 1
        i = j + 1
    return rows


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with an hour's pay owed for each workday with a meal period missing, short or late."""
    waived = np.zeros(int(spans.person.max()) + 1, np.int8) if site.waived is None else site.waived
    limits = [site.by_day(NAME, name, 60) for name in LIMITS]
    filled = tuple(np.empty(len(spans.at), dtype) for dtype in (np.int32, np.int32, np.int8, *[np.int64] * 4))
    inputs = (spans.person, spans.at, spans.gap, spans.shift, site.day_bounds, waived, *limits)
    rows = run_pass(find_meals_owed, inputs, filled, large=site.large)
    punch, day, reason, due, began, worked, longest = (column[:rows] for column in filled)
    words = {"was": due, "now": began, "worked_for": worked, "longest_for": longest}
    seconds = site.by_day(NAME, "premium", 3600)[day]
    return replace(spans, owed=(*spans.owed, Owed(CITES, "meal", punch, day, seconds, SAYS, reason, words)))


RULE = Pass(NAME, CITES, "owes", apply, numbers=NUMBERS)
