"""Pay of a week that comes to less than the minimum wage for every hour worked."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.facts import Check, Facts
from evenhand.checks.faults import weeks_at_fault
from evenhand.checks.words import call, deadline
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="below_minimum",
    title=told("Pay is below the minimum wage"),
    why=told(
        "The week's pay divided by all hours worked must reach the minimum wage, whatever the "
        "plan of pay (29 USC 206(a)(1)(C)); in California each hour must (135 Cal.App.4th 314). "
        "The difference is a line of the week's pay. Local minimum wages may be higher than the "
        "one checked here."
    ),
    next_step=told("Correct the rate if it is wrong; otherwise look that payroll pays the difference."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person with a week below the minimum wage."""
    for person, faults in weeks_at_fault(facts, "below_minimum"):
        owed = sum(fault["amount"] for fault in faults)
        minutes = sum(int(fault["seconds"]) for fault in faults) // 60
        yield Finding(
            code=CHECK.code,
            subject=person,
            person=person,
            says=told("The pay of {who} is {owed:.2f} short of the minimum wage.", who=call(facts, person), owed=owed),
            evidence=tuple(
                told(
                    "Week of {week}: {says:again} ({cites}).",
                    week=fault["workweek"],
                    says=fault["says"],
                    cites=fault["cites"],
                )
                for fault in faults
            ),
            stake=Stake(minutes=minutes, people=1, deadline=deadline(facts), law=faults[0]["cites"]),
            next_step=CHECK.next_step,
        )
