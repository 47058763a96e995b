"""Two punches of one person at the same instant."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.days import asked_days
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, clock, deadline
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="same_time",
    title=told("Two punches at the same instant"),
    why=told(
        "One hand cannot be laid on two readers, or go in and out, in the same second; which "
        "punch counts decides what is paid."
    ),
    next_step=told("Leave out the punch that did not happen, with the reason, on Hours."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and day with punches at the same instant."""
    for person, day, zone, asked, punches, _ in asked_days(facts, ("same_time",)):
        minutes = sum(int(row["minutes"]) for row in asked)
        clocks = [clock(facts, row["at"], zone) for row in asked]
        yield Finding(
            code=CHECK.code,
            subject=person,
            day=day,
            person=person,
            says=told(
                "{who} has two punches at the same instant, {clocks:joined} on {day}.",
                who=call(facts, person),
                clocks=clocks,
                day=day,
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
                "On Hours, leave out the punch that did not happen, with the reason; if two readers "
                "logged it, compare their clocks."
            ),
            blocks_pay=True,
            details={"punches": [row["punch"] for row in asked]},
        )
