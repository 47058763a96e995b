"""A hand is enrolled and no consent is on file."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.columns import Frame
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import counted, listed

LAW = (
    "Consent comes before enrolment: in Illinois 740 ILCS 14/15(b) (written release), in Texas Bus. & Com. Code "
    "503.001(b); other places have laws of their own, and the law of the place decides"
)

CHECK = Check(
    code="consent_missing",
    title="Enrolled without consent on file",
    why=f"{LAW}. This is a reminder, not legal advice.",
    next_step="Ask for the signed form, or remove the enrolment and offer another way to clock.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield one finding where no consent is on file at all; else one per site, and one per consent withdrawn."""
    here = facts.people.filter(pl.col("left_on").is_null() | (pl.col("left_on") >= facts.today))
    enrolled = here.join(facts.enrolments, on="number", how="semi").sort("person")
    if enrolled.is_empty():
        return
    if facts.consent.is_empty():
        yield _without(facts, "workplace", enrolled["person"].to_list(), "No consent is on file for the workplace.")
        return
    given = facts.consent.filter(pl.col("given_on") <= facts.today)
    ended = (pl.col("withdrawn_on") <= facts.today).fill_null(value=False)
    standing = given.filter(~ended)
    withdrawn = given.filter(ended).join(standing, on="person", how="anti")
    yield from _withdrawn(facts, enrolled.join(withdrawn, on="person", how="semi"), withdrawn)
    missing = enrolled.join(given, on="person", how="anti").select("person", site=pl.col("site").fill_null(""))
    for site, people in missing.group_by("site").agg(pl.col("person").sort()).sort("site").iter_rows():
        count = counted(len(people), "person", "people")
        yield _without(
            facts, site or "no site", people, f"{count} of {site or 'no site'} enrolled without consent on file."
        )


def _without(facts: Facts, subject: str, people: list[str], says: str) -> Finding:
    return Finding(
        code=CHECK.code,
        subject=subject,
        person=people[0] if len(people) == 1 else None,
        says=says,
        evidence=(
            f"{counted(len(people), 'person', 'people')} with a hand enrolled and no consent on file: "
            f"{listed([call(facts, person) for person in people])}.",
        ),
        stake=Stake(people=len(people), law=LAW),
        next_step="On Files, take the list of signed forms; whoever has not signed is asked now, and without a "
        "signature the enrolment is removed and another way to clock offered.",
        details={"people": people},
    )


def _withdrawn(facts: Facts, people: Frame, withdrawn: Frame) -> Iterator[Finding]:
    """A finding per person of `people` whose consent has ended."""
    numbers = people["number"].unique().implode()
    there = facts.enrolments.filter(pl.col("number").is_in(numbers)).group_by("number").agg(pl.col("reader").sort())
    last = withdrawn.group_by("person").agg(pl.col("withdrawn_on").max())
    rows = people.join(there, on="number").join(last, on="person").sort("person")
    for person, number, readers, on in rows.select("person", "number", "reader", "withdrawn_on").iter_rows():
        where = listed(readers)
        yield Finding(
            code=CHECK.code,
            subject=person,
            person=person,
            number=number,
            says=f"{call(facts, person)} withdrew consent and is still enrolled at {where}.",
            evidence=(f"Consent withdrawn on {on}; {number} is listed at {where}.",),
            stake=Stake(people=1, law=LAW),
            next_step=f"Remove {number} at {where}, keep the proof of the deletion, and offer another way to clock.",
            details={"readers": readers},
        )
