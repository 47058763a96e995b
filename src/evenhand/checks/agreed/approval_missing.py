"""The workplace wants every person's hours approved before they are handed off, and some are not.

Only a supervisor's approval can be wanted so, never a person's own confirmation: wages are due whether or not they
sign, and Cal. Lab. Code 206.5 forbids asking for a statement of hours known to be false as a condition of being paid.
"""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="approval_missing",
    title=told("Hours that no supervisor has approved"),
    why=told(
        "The settings want a supervisor's approval of everybody's hours before the period is "
        "handed off. Wages are due on their day all the same: where a supervisor cannot be "
        "reached, hand off despite this."
    ),
    next_step=told(
        "On Sign-off, have the supervisor approve; or hand the period off despite it, as the note then says."
    ),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per group of people with the same supervisors."""
    for (supervisors,), rows in facts.unapproved.sort("supervisors", "person").group_by(
        "supervisors", maintain_order=True
    ):
        people = rows["person"].to_list()
        who = [call(facts, one) for one in str(supervisors).split()]
        yield Finding(
            code=CHECK.code,
            subject=f"of {' '.join(str(supervisors).split()) or 'nobody'}",
            day=facts.period.first,
            says=told(
                "The hours of {count:# person|# people} wait for the approval of {listed}.",
                count=len(people),
                listed=told("{names:listed}", names=who) if who else told("a supervisor, and the roster names none"),
            ),
            evidence=(told("{names:listed}.", names=[call(facts, one) for one in people]),),
            stake=Stake(people=len(people), deadline=deadline(facts)),
            next_step=CHECK.next_step,
            blocks_pay=True,
            details={"people": people},
        )
