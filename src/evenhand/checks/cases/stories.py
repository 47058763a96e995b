"""Which story a kind of cause has; one without its own is told by its first finding."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from evenhand.checks.cases import of_absence, of_numbers, of_readers, of_settings
from evenhand.checks.cases.causes import Cause
from evenhand.checks.cases.telling import CaseTold, alone
from evenhand.checks.facts import Facts
from evenhand.checks.find import finders
from evenhand.terms.languages import told
from evenhand.terms.records import Finding

__all__ = ["STORIES", "tell"]

STORIES: Mapping[str, Callable[[Sequence[Finding], Facts], CaseTold]] = {
    "asked": of_absence.asked,
    "away": of_absence.away,
    "clock": of_readers.clock,
    "closed": of_settings.closed,
    "consent_due": of_settings.consent_due,
    "hand": of_readers.hand,
    "hand_to_go": of_numbers.hand_to_go,
    "log": of_absence.log,
    "not_enrolled": of_numbers.not_enrolled,
    "other_number": of_numbers.other_number,
    "rates": of_settings.rates,
    "reader": of_readers.reader,
    "rounding_not_neutral": of_settings.rounding,
    "supervisors": of_readers.supervisors,
}


def tell(cause: Cause, findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Return what is told of the findings of one cause."""
    if cause.kind in STORIES:
        return STORIES[cause.kind](findings, facts)
    says = alone(finders()[findings[0].code][0], findings, facts)
    if cause.kind == "approval_missing":
        return replace(
            says, steps=[replace(step, state="waits", waits_for=told("the supervisors")) for step in says.steps]
        )
    return says
