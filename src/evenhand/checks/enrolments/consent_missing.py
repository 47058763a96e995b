"""A hand is enrolled and no release is on file."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.consents import LAW, enrolled_here
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="consent_missing",
    title=told("Enrolled without consent on file"),
    why=told("{LAW}. This is a reminder, not legal advice.", LAW=LAW),
    next_step=told("Ask for the signed form, or remove the enrolment and offer another way to clock."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield one finding where nobody ever said anything; else one per site that wants releases."""
    enrolled = enrolled_here(facts)
    missing = enrolled.filter(pl.col("kind") == "nothing")
    if missing.height and facts.consent.filter(pl.col("kind") != "nothing").is_empty():
        yield _without(
            facts, "workplace", missing["person"].to_list(), told("No consent is on file for the workplace.")
        )
        return
    for site, people in missing.group_by("site").agg(pl.col("person").sort()).sort("site").iter_rows():
        count = told("{count:# person|# people}", count=len(people))
        yield _without(
            facts,
            site or "no site",
            people,
            told("{count} of {where} enrolled without consent on file.", count=count, where=site or told("no site")),
        )


def _without(facts: Facts, subject: str, people: list[str], says: str) -> Finding:
    return Finding(
        code=CHECK.code,
        subject=subject,
        person=people[0] if len(people) == 1 else None,
        says=says,
        evidence=(
            told(
                "{count:# person|# people} with a hand enrolled and no consent on file: {names:listed}.",
                count=len(people),
                names=[call(facts, person) for person in people],
            ),
        ),
        stake=Stake(people=len(people), law=LAW),
        next_step=told(
            "On Consent, print their sheets, or on Files take the list of signed forms; whoever does "
            "not sign is offered another way to clock, and the enrolment is removed."
        ),
        details={"people": people},
    )
