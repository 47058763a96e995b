"""The policy changed, and people whose hands are enrolled have not agreed to the new version."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import polars as pl

from evenhand.checks.consents import LAW, enrolled_here
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="consent_due",
    title=told("To agree to the new version of the policy"),
    why=told(
        "A release is given for the purpose and the length of term that its notice named; where "
        "they change, people are asked again. From the day that the version names, earlier "
        "releases no longer count."
    ),
    next_step=told(
        "On Consent, print the sheets of those who have not agreed yet, and key them back; "
        "whoever does not agree is offered another way to clock."
    ),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per site and last day, with who is still to agree, or whose release no longer counts."""
    asked = enrolled_here(facts).filter(pl.col("kind").is_in(["due", "lapsed"]))
    by = ["site", "kind", "due_by", "came_back"]
    groups = asked.with_columns(came_back=pl.col("ended_on").is_not_null()).group_by(by).agg(pl.col("person").sort())
    for site, kind, due_by, came_back, people in groups.sort(by).iter_rows():
        yield _of(facts, site, is_late=kind == "lapsed", due_by=due_by, came_back=came_back, people=people)


def _of(facts: Facts, site: str, *, is_late: bool, due_by: date | None, came_back: bool, people: list[str]) -> Finding:
    where, by = site or told("no site"), told("{day}", day=due_by) if due_by else ""
    count = told("{count:# person|# people}", count=len(people))
    if not is_late:
        says = told(
            "{count} of {where} to agree to the new version of the policy by {by}.", count=count, where=where, by=by
        )
        evidence = told("Their releases are of an earlier version and count until {by}", by=by)
    elif came_back:
        says = told("{count} of {where} enrolled under a release of an earlier employment.", count=count, where=where)
        evidence = told(
            "They came back after the employment for which they signed (740 ILCS 14/15(b): a release comes first)"
        )
    elif by:
        says = told("{count} of {where} enrolled under a release that no longer counts.", count=count, where=where)
        evidence = told("They were to agree to the new version of the policy by {by}", by=by)
    else:
        says = told("{count} of {where} enrolled under a release for another policy.", count=count, where=where)
        evidence = told("What they signed is the policy of another site")
    return Finding(
        code=CHECK.code,
        subject=f"{where}/{'back' if came_back else due_by or 'other'}/{'late' if is_late else 'due'}",
        person=people[0] if len(people) == 1 else None,
        says=says,
        evidence=(told("{why}: {names:listed}.", why=evidence, names=[call(facts, person) for person in people]),),
        stake=Stake(people=len(people), law=LAW),
        next_step=CHECK.next_step,
        details={"people": people, "due_by": due_by.isoformat() if due_by else "", "is_late": is_late},
    )
