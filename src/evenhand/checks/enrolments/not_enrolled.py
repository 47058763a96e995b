"""A person's hand is on no reader of the site."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.disagreement import Row, by
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import with_days

CHECK = Check(
    code="not_enrolled",
    title=told("Not enrolled at the site"),
    why=told(
        "Somebody who cannot key their number and lay a hand down anywhere at the site leaves no "
        "punches, and is paid only for what is put right by hand."
    ),
    next_step=told(
        "Have a supervisor enrol the hand under the roster's number: three presentations, one or "
        "two more if they disagree."
    ),
)

MANY = 20


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person; one per site where more than twenty are missing, as when a list was never taken."""
    missing = facts.discrepancies_of("not_enrolled")
    sites = facts.people.select("person", "site")
    rows = missing.join(sites, on="person", how="left", maintain_order="left").rows(named=True)
    planned = _planned(facts)
    for (site,), there in by(rows, "site").items():
        if len(there) > MANY:
            yield _of_site(facts, site, there)
        else:
            yield from (_of_person(facts, row, planned.get(row["person"], _any_reader(site))) for row in there)


def _planned(facts: Facts) -> dict[str, str]:
    """The reader at which each person is to be enrolled, the first where there are several."""
    steps = facts.reader_steps.filter(pl.col("action") != "remove", pl.col("person").is_not_null())
    return dict(steps.select("person", "reader").reverse().iter_rows())


def _of_person(facts: Facts, row: Row, where: str) -> Finding:
    who, number = call(facts, row["person"]), row["number"]
    is_released = row["person"] not in facts.unreleased
    first = (
        told("Have a supervisor")
        if is_released
        else told("On Consent, print the sheet; once it is signed, have a supervisor")
    )
    return Finding(
        code=CHECK.code,
        subject=row["person"],
        person=row["person"],
        number=number,
        says=told("{who} is enrolled on no reader of the site.", who=who)
        if row["site"]
        else told("{who} is enrolled on no reader.", who=who),
        evidence=(told("{says:again}.", says=with_days(row["evidence"])),),
        stake=Stake(people=1),
        next_step=told(
            "{first} enrol {who} at {where} under {number}; if a hand cannot be used, offer another way to clock.",
            first=first,
            who=who,
            where=where,
            number=number,
        ),
    )


def _any_reader(site: str | None) -> str:
    return told("a reader of site {site}", site=site) if site else told("a reader")


def _of_site(facts: Facts, site: str | None, rows: list[Row]) -> Finding:
    people = [row["person"] for row in rows]
    return Finding(
        code=CHECK.code,
        subject=f"site {site}" if site else told("no site"),
        says=told(
            "{count:# person|# people} of site {site} are enrolled on none of its readers.", count=len(rows), site=site
        )
        if site
        else told("{count:# person|# people} without a site are enrolled on none of the readers.", count=len(rows)),
        evidence=(
            told("Among them {names:listed}.", names=[call(facts, person) for person in people]),
            told("{says:again}.", says=with_days(rows[0]["evidence"])),
        ),
        stake=Stake(people=len(rows)),
        next_step=told(
            "Take the lists of numbers enrolled on its readers first; if they are up to date, plan an enrolment day "
            "with the steps on Readers."
        )
        if site
        else told(
            "Take the lists of numbers enrolled on the readers first; if they are up to date, plan an enrolment day "
            "with the steps on Readers."
        ),
        details={"people": people},
    )
