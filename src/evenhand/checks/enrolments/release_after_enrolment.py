"""A hand was enrolled before its release was given."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.consents import LAW
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="release_after_enrolment",
    title=told("Enrolled before the release"),
    why=told(
        "740 ILCS 14/15(b) has the notice and the written release come first; a release that "
        "comes after the hand does not mend what was before it. Other places have laws of their "
        "own."
    ),
    next_step=told(
        "Look for an earlier form that was not taken; where there is none, keep what is on file "
        "as it is, ask counsel, and find out how a hand came to be enrolled first."
    ),
)

TELLS = {
    "reader's list": sentence("reader's list"),
    "round": sentence("round"),
    "first presentation": sentence("first presentation"),
}


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per site of the people."""
    sites = facts.people.select("person", site=pl.col("site").fill_null(""))
    early = facts.early_enrolments.join(sites, on="person").sort("site", "person", "day")
    first = early.unique("person", keep="first", maintain_order=True)
    for (site,), rows in first.partition_by("site", as_dict=True, maintain_order=True).items():
        yield _of_site(facts, str(site), rows.rows(named=True))


def _of_site(facts: Facts, site: str, rows: list[dict[str, Any]]) -> Finding:
    where, people = site or told("no site"), [row["person"] for row in rows]
    lines = [
        told(
            "{who} at {reader} on {day} by the {tells}, released on {released}",
            who=call(facts, row["person"]),
            reader=row["reader"],
            day=row["day"],
            tells=told(TELLS[row["tells"]]),
            released=row["released_on"],
        )
        for row in rows
    ]
    return Finding(
        code=CHECK.code,
        subject=where,
        person=people[0] if len(people) == 1 else None,
        says=told("{count:# hand|# hands} of {where} enrolled before the release.", count=len(people), where=where),
        evidence=(told("{lines:listed}.", lines=lines),),
        stake=Stake(people=len(people), law=LAW),
        next_step=CHECK.next_step,
        details={"people": people},
    )
