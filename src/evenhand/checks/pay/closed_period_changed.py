"""What is owed for a period that was handed off is no longer what payroll was told.

Silence would leave somebody unpaid, or paid twice; nothing here is a cry for nothing, since each second and cent was
told to payroll once and is owed otherwise now. Where a rule or a rate changes for many, they are one finding.
"""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import deadline
from evenhand.terms.closing import ClosedPeriod, PersonChange, change_in_short, changes_in_words, changes_of_people
from evenhand.terms.languages import DaySpan, told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import called

CHECK = Check(
    code="closed_period_changed",
    title=told("A period that was handed off has changed since"),
    why=told(
        "A late log, a correction, an attribution, a roster, a rate or a rule can change what is "
        "owed for a period of which payroll has been told. What is owed then is neither in the "
        "file that payroll has nor in any later one."
    ),
    next_step=told("On Hand-off, replace the period's file, or have the next period's file carry the difference."),
)
FEW = 5
"""As many people of a period as are told one by one."""


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per closed period and person, or one for the period where many have changed."""
    for period in facts.closed:
        people = changes_of_people(period.changes, facts.names)
        if len(people) > FEW:
            yield _of_many(facts, period, people)
        else:
            yield from (_of_person(facts, period, one) for one in people)


def _of_person(facts: Facts, period: ClosedPeriod, one: PersonChange) -> Finding:
    return _finding(
        facts,
        period,
        subject=f"{period.handoff}/{one.person}",
        says=told(
            "{who}: {change} since {span} was handed off.",
            who=called(one.name, one.person),
            change=change_in_short(one),
            span=_span(period),
        ),
        evidence=(told("Payroll has {file}.", file=period.file), *changes_in_words(one)),
        people=[one],
        person=one.person,
    )


def _of_many(facts: Facts, period: ClosedPeriod, people: list[PersonChange]) -> Finding:
    said = [told("{who} {change}", who=called(one.name, one.person), change=change_in_short(one)) for one in people]
    return _finding(
        facts,
        period,
        subject=str(period.handoff),
        says=told(
            "{count:# person has|# people have} changed since {span} was handed off.",
            count=len(people),
            span=_span(period),
        ),
        evidence=(told("Payroll has {file}.", file=period.file), told("{names:listed 5}.", names=said)),
        people=people,
    )


def _span(period: ClosedPeriod) -> str:
    return told("{days}", days=DaySpan(period.first, period.last))


def _finding(
    facts: Facts,
    period: ClosedPeriod,
    *,
    subject: str,
    says: str,
    evidence: tuple[str, ...],
    people: list[PersonChange],
    person: str | None = None,
) -> Finding:
    worked_s = sum(abs(one.worked_s) + abs(one.premium_s) for one in people)
    return Finding(
        code=CHECK.code,
        subject=subject,
        person=person,
        day=period.first,
        says=says,
        evidence=evidence,
        stake=Stake(minutes=worked_s // 60, people=len(people), deadline=deadline(facts)),
        next_step=CHECK.next_step,
        blocks_pay=True,
        details={
            "first": period.first.isoformat(),
            "last": period.last.isoformat(),
            "file": period.file,
            "seconds": sum(one.worked_s for one in people),
            "amount": str(sum(one.amount for one in people)),
        },
    )
