"""Somebody is in for longer than anybody works at a stretch."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.days import asked_days
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, clock, deadline
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_day, as_duration

CHECK = Check(
    code="long_span",
    title="A span is too long to be one stretch of work",
    why="A punch in and the next punch out lie further apart than the workplace's longest span. Either two punches "
    "between them are missing, or somebody truly worked that long and is owed it.",
    next_step="Ask the person; add the punches that are missing, or settle the span as worked.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and day on which a span longer than the workplace's longest begins."""
    longest = facts.settings.policy.longest_span_s
    for person, day, zone, asked, punches, _ in asked_days(facts, ("long_span",)):
        minutes = sum(int(row["minutes"]) for row in asked)
        clocks = " and ".join(clock(facts, row["at"], zone) for row in asked)
        yield Finding(
            code=CHECK.code,
            subject=person,
            day=day,
            person=person,
            says=f"{call(facts, person)} is in from {clocks} on {as_day(day)} for more than {as_duration(longest)}.",
            evidence=(
                *punches,
                f"About {as_duration(60 * minutes)} of pay is in doubt, estimated from the person's other spans.",
            ),
            stake=Stake(minutes=minutes, people=1, deadline=deadline(facts)),
            next_step=f"Ask {call(facts, person)} about {as_day(day)}: on Hours, add the punches that are missing, or "
            "settle the span with the reason if it was worked.",
            blocks_pay=True,
            details={"punches": [row["punch"] for row in asked]},
        )
