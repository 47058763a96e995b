"""Apply a jurisdiction's rules in their written order."""

from __future__ import annotations

from collections.abc import Iterator
from types import ModuleType
from typing import Any

from evenhand.law import alaska, california, colorado, eu_2003_88, nevada, us_eight_and_eighty, us_federal
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.records import Refusal

__all__ = ["JURISDICTIONS", "Change", "class_spans", "step_rows"]

JURISDICTIONS: dict[str, tuple[ModuleType, ...]] = {
    room.__name__.rpartition(".")[2]: room.RULES
    for room in (alaska, california, colorado, eu_2003_88, nevada, us_eight_and_eighty, us_federal)
}

Change = tuple[ModuleType, Spans, Spans]
"""A rule with the spans before and after it."""


def class_spans(spans: Spans, site: Site, changes: list[Change] | None = None) -> Spans:
    """Return the spans as the site's rules leave them; raises Refusal for a jurisdiction that is not known.

    Where `changes` is given, each rule is noted there with what it was given and what it made of it: the
    explanation is read from the very columns that paid.
    """
    rules = JURISDICTIONS.get(site.rules.jurisdiction)
    if rules is None:
        raise Refusal(
            f"site {site.rules.site}: the jurisdiction {site.rules.jurisdiction!r} is not known; "
            f"use {' or '.join(sorted(JURISDICTIONS))}."
        )
    for rule in rules:
        before, spans = spans, rule.apply(spans, site)
        if changes is not None:
            changes.append((rule, before, spans))
    return spans


def step_rows(changes: list[Change], site: Site) -> Iterator[dict[str, Any]]:
    """Yield each rule's steps in order, with the rule's name and citation; a step over a workweek's line is cut."""
    bounds = site.week_bounds
    for rule, before, after in changes:
        cites = "; ".join(citation.where for citation in rule.CITES)
        for step in rule.steps(before, after, site):
            step |= {"rule": rule.NAME, "cites": cites}
            yield from _cut(step, bounds)


def _cut(step: dict[str, Any], bounds: Any) -> Iterator[dict[str, Any]]:
    sign = 0 if step["seconds"] == 0 else 1 if step["seconds"] > 0 else -1
    starts = step["starts"]
    while True:
        week = int(bounds.searchsorted(starts, side="right")) - 1
        ends = min(step["ends"], int(bounds[week + 1])) if sign else step["ends"]
        yield step | {"week": week, "starts": starts, "ends": ends, "seconds": sign * (ends - starts)}
        starts = ends
        if not sign or starts >= step["ends"]:
            return
