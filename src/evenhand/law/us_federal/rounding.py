"""Round where paid time begins and ends to the nearest 5 minutes, tenth or quarter of an hour.

Source: 29 CFR 785.48(b): accepted only where it averages out, so that over a period of time people are paid for
all the time they actually work. The section leaves the tie open: here half an increment goes up, at starts and at
ends alike, and seconds are kept. Civil time is that of the reader the punch was made at.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from evenhand.law.compiling import run_pass
from evenhand.law.jurisdiction import Pass
from evenhand.law.recorded.civil import civil_seconds, round_bounds
from evenhand.law.recorded.moved import moved_bounds
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Spans
from evenhand.terms.languages import sentence, told
from evenhand.terms.parameters import dated
from evenhand.terms.records import Citation, Refusal

__all__ = ["RULE"]

NAME = "us_federal.rounding"
CITES = (Citation("29 CFR 785.48(b)"),)
SAYS = (
    sentence("the start at {was} counts as {now}, the nearest {unit} minutes"),
    sentence("the end at {was} counts as {now}, the nearest {unit} minutes"),
)

INCREMENTS = dated(
    "increments",
    sentence("Increments of civil time to which punches may be rounded"),
    "s",
    (
        date(1961, 1, 11),
        (300, 360, 900),
        "29 CFR 785.48(b) (nearest 5 minutes, one-tenth or quarter of an hour); date of effect from memory",
    ),
)


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans with rounded bounds; raises Refusal for an increment the section does not name."""
    unit_s = site.rules.rounding_s
    if unit_s == 0:
        return spans
    accepted = site.parameter(NAME, INCREMENTS.name).on(site.week_dates[0])
    if unit_s not in accepted:
        raise Refusal(
            told(
                "{named}: rounding_s is {unit_s}; 29 CFR 785.48(b) names {known} seconds; use one of them, "
                "or 0 for no rounding.",
                named=site.rules.named,
                unit_s=unit_s,
                known=", ".join(str(increment) for increment in accepted),
            )
        )
    pay_at = spans.at.copy()
    inputs = (spans.person, spans.at, civil_seconds(spans, site), spans.gap, unit_s)
    run_pass(round_bounds, inputs, (pay_at,), large=site.large)
    return replace(spans, pay_at=pay_at)


def changes(before: Spans, after: Spans, site: Site) -> Changes | None:
    """Return one row per bound that moved, with the seconds it added or took; None where pay is not rounded."""
    if after.pay_at is before.pay_at:
        return None
    return moved_bounds(after.at, after, site, SAYS, unit=site.rules.rounding_s // 60)


RULE = Pass(NAME, CITES, "moves", apply, changes, (INCREMENTS,))
