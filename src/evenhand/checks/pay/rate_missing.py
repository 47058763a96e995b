"""Hours that no rate of pay stands against."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.facts import Check, Facts
from evenhand.checks.faults import money_asked, weeks_at_fault
from evenhand.checks.words import call, deadline
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="rate_missing",
    title=told("A rate of pay is missing"),
    why=told(
        "Hours, pieces or a payment have no rate or amount, so the week's pay is not known. A "
        "rate is never guessed, and the last one is not taken to go on."
    ),
    next_step=told("Take a file of rates that holds on these days, or add the rate to the roster; then look again."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person whose pay in the period is not known."""
    for person, faults in weeks_at_fault(facts, "missing"):
        minutes = sum(int(fault["seconds"]) for fault in faults) // 60
        weeks = len({fault["workweek"] for fault in faults})
        yield Finding(
            code=CHECK.code,
            subject=person,
            person=person,
            says=told(
                "The pay of {who} is not known for {weeks:# week|# weeks}: {says:again}.",
                who=call(facts, person),
                weeks=weeks,
                says=faults[0]["says"],
            ),
            evidence=tuple(
                told("Week of {week}: {says:again}.", week=fault["workweek"], says=fault["says"]) for fault in faults
            ),
            stake=Stake(minutes=minutes, people=1, deadline=deadline(facts)),
            next_step=told(
                "Take a file of rates that covers {minutes:duration} of {who}.",
                minutes=60 * minutes,
                who=call(facts, person),
            ),
            blocks_pay=money_asked(facts),
            details={"lacks": list(dict.fromkeys(fault["lacks"] for fault in faults if fault["lacks"]))},
        )
