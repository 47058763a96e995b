"""A punch close to a scheduled start or end counts as that start or end, as far as the policy says in each direction.

Source: the workplace's own policy within 29 CFR 785.48(a): time punched early or late may be disregarded only if no
work was done in it. What was recorded stays, and every shift of a bound is a step with its seconds. A bound that counts
as scheduled is not rounded as well, so grace and rounding never add up.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from evenhand.law.codes import OFF
from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass
from evenhand.law.recorded.moved import moved_bounds
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Spans
from evenhand.terms.languages import sentence
from evenhand.terms.records import Citation

__all__ = ["RULE"]

NAME = "recorded.grace"
CITES = (Citation(sentence("the workplace's policy")), Citation("29 CFR 785.48(a)"))
SAYS = (
    sentence("the start at {was} counts as the scheduled start at {now}"),
    sentence("the end at {was} counts as the scheduled end at {now}"),
)


def move_to_schedule(
    person: Any,
    at: Any,
    gap: Any,
    first: Any,
    planned_starts: Any,
    planned_ends: Any,
    start_early: int,
    start_late: int,
    end_early: int,
    end_late: int,
    pay_at: Any,
) -> None:
    """Move where each run of paid time begins and ends to a scheduled bound within reach.

    An end never moves past the person's next start, as punched and as rounded: who leaves early and comes back is paid
    for no second twice.
    """
    i, n = 0, len(at)
    k, owner, floor = 0, -1, 0
    while i < n:
        j = i
        while gap[j] != OFF:
            j += 1
        if j > i:
            if person[i] != owner:
                owner = person[i]
                k, floor = first[owner], at[i] - start_late - 1
            while k < first[owner + 1] and planned_ends[k] + end_late < at[i]:
                k += 1
            following, last = j + 1, 1 << 60
            while following < n and gap[following] == OFF:
                following += 1
            if following < n and person[following] == owner:
                last = min(at[following], pay_at[following])
            for m in range(k, first[owner + 1]):
                if planned_starts[m] - start_early > at[j]:
                    break
                if planned_starts[m] - start_early <= at[i] <= planned_starts[m] + start_late:
                    pay_at[i] = max(floor, min(planned_starts[m], pay_at[j]))
                if planned_ends[m] - end_early <= at[j] <= planned_ends[m] + end_late:
                    pay_at[j] = max(min(planned_ends[m], last), pay_at[i])
            for between in range(i + 1, j):
                pay_at[between] = min(max(at[between], pay_at[i]), pay_at[j])
            floor = pay_at[j]
        i = j + 1


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with bounds near the schedule moved to it; without schedules nothing moves."""
    grace, planned = site.policy.grace, site.planned
    reach = (grace.start_early_s, grace.start_late_s, grace.end_early_s, grace.end_late_s)
    if planned is None or not any(reach):
        return spans
    pay_at = spans.pay_at.copy()
    inputs = (spans.person, spans.at, spans.gap, planned.first, planned.starts, planned.ends, *reach)
    run_pass(move_to_schedule, inputs, (pay_at,), large=site.large)
    return replace(spans, pay_at=pay_at)


def changes(before: Spans, after: Spans, site: Site) -> Changes | None:
    """Return one row per bound that moved, with the seconds it added or took; None where no bound could."""
    if after.pay_at is before.pay_at:
        return None
    return moved_bounds(before.pay_at, after, site, SAYS)


RULE = Pass(NAME, CITES, "moves", apply, changes)
