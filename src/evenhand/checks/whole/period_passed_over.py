"""A pay period between periods that were handed off was never handed off itself.

Silence would leave everybody unpaid for it, since each page looks at one period and finds nothing wrong there; a cry
over a period in which nobody worked costs one answer.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from evenhand.checks.facts import Check, Facts
from evenhand.terms.languages import DaySpan, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="period_passed_over",
    title=told("A pay period was never handed off"),
    why=told(
        "Periods before it were handed off, and it is not the last: what people earned in it is "
        "in no file that payroll has, and nothing of it is in a later one."
    ),
    next_step=told("Hand it off, or settle this with the reason where payroll had it by another way."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per period from the first that was handed off up to the one looked at."""
    if not facts.closed:
        return
    told = {one.first for one in facts.closed}
    length = timedelta(days=7 * facts.settings.period.weeks)
    first = min(told)
    while first < facts.period.first:
        if not any(one.first <= first <= one.last for one in facts.closed):
            yield _of(facts, first, first + length - timedelta(days=1))
        first += length


def _of(facts: Facts, first: date, last: date) -> Finding:
    span = told("{days}", days=DaySpan(first, last))
    return Finding(
        code=CHECK.code,
        subject=first.isoformat(),
        says=told("The pay period {span} was never handed off, though an earlier one was.", span=span),
        evidence=(told("No file for payroll holds anything of it."),),
        stake=Stake(people=facts.people.height),
        next_step=told(
            "On Hand-off, choose {span} and write its files; settle this where payroll had it by another way.",
            span=span,
        ),
    )
