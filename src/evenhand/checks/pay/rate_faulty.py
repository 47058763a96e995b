"""Rates and earnings that cannot be as they are written down."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.facts import Check, Facts
from evenhand.checks.faults import money_asked, weeks_at_fault
from evenhand.checks.words import call, deadline
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="rate_faulty",
    title=told("A rate or a payment cannot be right"),
    why=told(
        "Two rates hold at once, a rate is below zero, a salary does not say which hours it "
        "covers, or a bonus is earned in a week without hours. What is owed depends on which of "
        "them is meant."
    ),
    next_step=told("Correct the file of rates or earnings and take it again; what it said before is kept."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person with a rate or payment at fault in the period."""
    for person, faults in weeks_at_fault(facts, "faulty"):
        minutes = sum(int(fault["seconds"]) for fault in faults) // 60
        yield Finding(
            code=CHECK.code,
            subject=person,
            person=person,
            says=told("{who}: {says:again}.", who=call(facts, person), says=faults[0]["says"]),
            evidence=tuple(
                told(
                    "Week of {week}: {says:again}. ({cites})",
                    week=fault["workweek"],
                    says=fault["says"],
                    cites=fault["cites"],
                )
                if fault["cites"]
                else told("Week of {week}: {says:again}.", week=fault["workweek"], says=fault["says"])
                for fault in faults
            ),
            stake=Stake(minutes=minutes, people=1, deadline=deadline(facts)),
            next_step=CHECK.next_step,
            blocks_pay=money_asked(facts),
        )
