"""A hand is enrolled and no consent is on file."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
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
    enrolled = _enrolled(facts)
    if not enrolled:
        return
    if not facts.consent.height:
        yield _without(facts, "workplace", list(enrolled), "No consent is on file for the workplace.")
        return
    standing, withdrawn = _consent(facts)
    for person in enrolled:
        if person in withdrawn:
            yield _withdrawn(facts, person, enrolled[person])
    answered = standing | withdrawn
    missing = [person for person in enrolled if person not in answered]
    for site in sorted({facts.sites.get(person) or "" for person in missing}):
        people = [person for person in missing if (facts.sites.get(person) or "") == site]
        count = counted(len(people), "person", "people")
        yield _without(
            facts, site or "no site", people, f"{count} of {site or 'no site'} enrolled without consent on file."
        )


def _enrolled(facts: Facts) -> dict[str, list[str]]:
    """Each person on the roster whose number a reader lists, with those readers."""
    here = facts.people.filter(pl.col("left_on").is_null() | (pl.col("left_on") >= facts.today))
    found: dict[str, list[str]] = {}
    for person, reader in (
        here.join(facts.enrolments, on="number").sort("person", "reader").select("person", "reader").iter_rows()
    ):
        found.setdefault(person, []).append(reader)
    return found


def _consent(facts: Facts) -> tuple[set[str], set[str]]:
    given = facts.consent.filter(pl.col("given_on") <= facts.today)
    ended = pl.col("withdrawn_on").is_not_null() & (pl.col("withdrawn_on") <= facts.today)
    standing = set(given.filter(~ended)["person"].to_list())
    return standing, set(given.filter(ended)["person"].to_list()) - standing


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
        next_step="On Consent, take the list of signed forms; whoever has not signed is asked now, and without a "
        "signature the enrolment is removed and another way to clock offered.",
        details={"people": people},
    )


def _withdrawn(facts: Facts, person: str, readers: list[str]) -> Finding:
    number = facts.numbers.get(person)
    last = facts.consent.filter(pl.col("person") == person)["withdrawn_on"].drop_nulls().sort().to_list()[-1]
    return Finding(
        code=CHECK.code,
        subject=person,
        person=person,
        number=number,
        says=f"{call(facts, person)} withdrew consent and is still enrolled at {listed(readers)}.",
        evidence=(f"Consent withdrawn on {last}; {number} is listed at {listed(readers)}.",),
        stake=Stake(people=1, law=LAW),
        next_step=f"Remove {number} at {listed(readers)}, record the deletion on Consent, and offer another way "
        "to clock.",
        details={"readers": readers},
    )
