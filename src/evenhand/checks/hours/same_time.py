"""Two punches of one person at the same instant."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.days import asked_days
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, clock, deadline
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_day, as_duration

CHECK = Check(
    code="same_time",
    title="Two punches at the same instant",
    why="One hand cannot be laid on two readers, or go in and out, in the same second; which punch counts decides "
    "what is paid.",
    next_step="Leave out the punch that did not happen, with the reason, on Hours.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and day with punches at the same instant."""
    for person, day, zone, asked, punches, _ in asked_days(facts, ("same_time",)):
        minutes = sum(int(row["minutes"]) for row in asked)
        clocks = " and ".join(clock(facts, row["at"], zone) for row in asked)
        yield Finding(
            code=CHECK.code,
            subject=person,
            day=day,
            person=person,
            says=f"{call(facts, person)} has two punches at the same instant, {clocks} on {as_day(day)}.",
            evidence=(
                *punches,
                f"About {as_duration(60 * minutes)} of pay is in doubt, estimated from the person's other spans.",
            ),
            stake=Stake(minutes=minutes, people=1, deadline=deadline(facts)),
            next_step="On Hours, leave out the punch that did not happen, with the reason; if two readers logged it, "
            "compare their clocks.",
            blocks_pay=True,
            details={"punches": [row["punch"] for row in asked]},
        )
