"""A person's hand is on no reader of the site."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.compared import by, discrepancies
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
    for (site,), rows in by(
        [row | {"site": facts.sites.get(row["person"])} for row in _missing(facts)], "site"
    ).items():
        if len(rows) > MANY:
            yield _of_site(facts, site, rows)
        else:
            for row in rows:
                yield _of_person(facts, row)


def _missing(facts: Facts) -> list[dict[str, Any]]:
    """Return who is not enrolled, without those who have withdrawn consent and clock another way."""
    withdrawn = set(facts.consent.filter(pl.col("withdrawn_on").is_not_null())["person"].to_list())
    return [row for row in discrepancies(facts, "not_enrolled") if row["person"] not in withdrawn]


def _of_person(facts: Facts, row: dict[str, Any]) -> Finding:
    who, number = call(facts, row["person"]), row["number"]
    planned = facts.reader_steps.filter(pl.col("person") == row["person"], pl.col("action") != "remove")["reader"]
    where = planned[0] if planned.len() else _any_reader(facts.sites.get(row["person"]))
    return Finding(
        code=CHECK.code,
        subject=row["person"],
        person=row["person"],
        number=number,
        says=f"{who} is enrolled on no reader" + (" of the site." if facts.sites.get(row["person"]) else "."),
        evidence=(f"{row['evidence']}.",),
        stake=Stake(people=1),
        next_step=f"Once consent is signed, have a supervisor enrol {who} at {where} under {number}; if a hand "
        "cannot be used, offer another way to clock.",
    )


def _any_reader(site: str | None) -> str:
    return f"a reader of site {site}" if site else "a reader"


def _of_site(facts: Facts, site: str | None, rows: list[dict[str, Any]]) -> Finding:
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
