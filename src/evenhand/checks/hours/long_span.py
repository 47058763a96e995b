"""Somebody is in for longer than anybody works at a stretch."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.days import asked_days
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, clock, deadline
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="long_span",
    title=told("A span is too long to be one stretch of work"),
    why=told(
        "A punch in and the next punch out lie further apart than the workplace's longest span. "
        "Either two punches between them are missing, or somebody truly worked that long and is "
        "owed it."
    ),
    next_step=told("Ask the person; add the punches that are missing, or settle the span as worked."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and day on which a span longer than the workplace's longest begins."""
    longest = facts.settings.policy.longest_span_s
    for person, day, zone, asked, punches, _ in asked_days(facts, ("long_span",)):
        minutes = sum(int(row["minutes"]) for row in asked)
        clocks = [clock(facts, row["at"], zone) for row in asked]
        yield Finding(
            code=CHECK.code,
            subject=person,
            day=day,
            person=person,
            says=told(
                "{who} is in from {clocks:joined} on {day} for more than {longest:duration}.",
                who=call(facts, person),
                clocks=clocks,
                day=day,
                longest=longest,
            ),
            evidence=(
                *punches,
                told(
                    "About {minutes:duration} of pay is in doubt, estimated from the person's other spans.",
                    minutes=60 * minutes,
                ),
            ),
            stake=Stake(minutes=minutes, people=1, deadline=deadline(facts)),
            next_step=told(
                "Ask {who} about {day}: on Hours, add the punches that are missing, or settle the span "
                "with the reason if it was worked.",
                who=call(facts, person),
                day=day,
            ),
            blocks_pay=True,
            details={"punches": [row["punch"] for row in asked]},
        )
