"""A person's hand is on no reader of the site."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.disagreement import Row, by
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import counted, listed

CHECK = Check(
    code="not_enrolled",
    title="Not enrolled at the site",
    why="Somebody who cannot key their number and lay a hand down anywhere at the site leaves no punches, and is "
    "paid only for what is put right by hand.",
    next_step="Have a supervisor enrol the hand under the roster's number: three presentations, one or two more "
    "if they disagree.",
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
    first = "Have a supervisor" if is_released else "On Consent, print the sheet; once it is signed, have a supervisor"
    return Finding(
        code=CHECK.code,
        subject=row["person"],
        person=row["person"],
        number=number,
        says=f"{who} is enrolled on no reader" + (" of the site." if row["site"] else "."),
        evidence=(f"{row['evidence']}.",),
        stake=Stake(people=1),
        next_step=f"{first} enrol {who} at {where} under {number}; if a hand cannot be used, offer another way to "
        "clock.",
    )


def _any_reader(site: str | None) -> str:
    return f"a reader of site {site}" if site else "a reader"


def _of_site(facts: Facts, site: str | None, rows: list[Row]) -> Finding:
    people = [row["person"] for row in rows]
    whose, which = (f"of site {site}", "its") if site else ("without a site", "the")
    return Finding(
        code=CHECK.code,
        subject=f"site {site}" if site else "no site",
        says=f"{counted(len(rows), 'person', 'people')} {whose} are enrolled on none of {which} readers.",
        evidence=(
            f"Among them {listed([call(facts, person) for person in people])}.",
            f"{rows[0]['evidence']}.",
        ),
        stake=Stake(people=len(rows)),
        next_step=f"Take the lists of numbers enrolled on {which} readers first; if they are up to date, "
        "plan an enrolment day with the steps on Readers.",
        details={"people": people},
    )
