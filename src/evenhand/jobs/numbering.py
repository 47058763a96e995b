"""Hand out numbers from a page: who has none, which rest, which clash, and new ones that become a file to take."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

import polars as pl

from evenhand.enrolment.paper import Heading, print_slips
from evenhand.jobs.numbers import NumberDesign, confusable_now, design_of, hand_out
from evenhand.jobs.period import RECENT
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.round_files import round_stationery
from evenhand.jobs.today import Today
from evenhand.jobs.waiting import receive
from evenhand.jobs.workspace import Workspace
from evenhand.numbers import Scheme
from evenhand.terms.columns import Frame
from evenhand.terms.csv_text import as_csv
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Refusal, Unknown, WaitingFile
from evenhand.terms.rounds import ROUND_ITEMS
from evenhand.terms.words import as_day

__all__ = [
    "NUMBERS_FILE",
    "NumbersSeen",
    "ProposedNumber",
    "RestingNumber",
    "as_file",
    "numbers_of",
    "print_numbers",
    "propose",
    "see_numbers",
]

CLASHES = ("shared_number", "wrong_number", "lost_zeros", "too_long", "unknown_enrolment")
"""Findings of numbers that mean two people, or nobody, or that a reader cannot take."""
MOST_AT_ONCE = 500
NUMBERS_FILE = "numbers-"
"""How the name begins of a file that gives numbers out, which is a part of the roster wherever it is looked at."""


@dataclass(frozen=True)
class RestingNumber:
    """A number that nobody of the roster has and that is not given again yet: enrolled still, or keyed of late.

    `seen_at` is when it was last keyed; it rests until `until` where it is listed at no reader.
    """

    number: str
    readers: tuple[str, ...]
    seen_at: int | None
    until: int | None


@dataclass(frozen=True)
class NumbersSeen:
    """The numbers of a workplace: how safe they are, who has none, which rest, which clash, which are confusable.

    `confusable` is CONFUSABLE, those that share readers and hours first.
    """

    design: NumberDesign
    without: tuple[tuple[str, str, str], ...]
    resting: tuple[RestingNumber, ...]
    clashes: tuple[Finding, ...]
    confusable: Frame


@dataclass(frozen=True)
class ProposedNumber:
    """A number for somebody of the roster, or for whoever comes next where `person` is empty.

    `nearest` are numbers in use one slip away from it; there are some only where no better number is free.
    """

    person: str
    name: str
    site: str
    number: str
    nearest: tuple[str, ...]


def see_numbers(reckoning: Reckoning, today: Today) -> NumbersSeen:
    """Return the numbers as they stand."""
    of = reckoning.snapshot
    without = of.here(reckoning.day).filter(pl.col("number").is_null()).sort("name", "person")
    return NumbersSeen(
        design_of(of.here(reckoning.day), of.readers),
        tuple(
            (person, name, site or "") for person, name, site in without.select("person", "name", "site").iter_rows()
        ),
        tuple(_resting(reckoning)),
        tuple(finding for finding in today.findings if finding.code in CLASHES),
        confusable_now(reckoning),
    )


def _resting(reckoning: Reckoning) -> Sequence[RestingNumber]:
    of = reckoning.snapshot
    since = int((reckoning.as_of - RECENT).timestamp())
    seen = of.last_seen.group_by("number").agg(seen_at=pl.col("last_at").max()).filter(pl.col("seen_at") >= since)
    listed = of.enrolments.group_by("number").agg(pl.col("reader").sort())
    held = of.here(reckoning.day)["number"].drop_nulls().implode()
    rows = listed.join(seen, on="number", how="full", coalesce=True).filter(~pl.col("number").is_in(held))
    return [
        RestingNumber(
            number, tuple(readers or ()), at, at + int(RECENT.total_seconds()) if at and not readers else None
        )
        for number, readers, at in rows.select("number", "reader", "seen_at").sort("number").iter_rows()
    ]


def propose(
    reckoning: Reckoning, people: Sequence[str], more: int, *, scheme: Scheme | None, seed: int
) -> tuple[ProposedNumber, ...]:
    """Return numbers for `people` without one and for `more` who are to come; the same `seed` draws the same ones.

    Raises Refusal where somebody has a number already, where nobody is meant, and where too few numbers are free.
    """
    of = reckoning.snapshot
    here = {row["person"]: row for row in of.here(reckoning.day).iter_rows(named=True)}
    for person in people:
        if person not in here:
            raise Unknown(told('nobody here is "{person}"; the page Numbers lists who has no number.', person=person))
        if here[person]["number"] is not None:
            raise Refusal(
                told(
                    "{name} has the number {number} by now; choose anew.",
                    name=here[person]["name"],
                    number=here[person]["number"],
                )
            )
    count = len(people) + more
    if not 0 < count <= MOST_AT_ONCE or more < 0:
        raise Refusal(
            told("{count} numbers cannot be handed out at once; mark from 1 to {most}.", count=count, most=MOST_AT_ONCE)
        )
    since = int((reckoning.as_of - RECENT).timestamp())
    seen = of.recorded.filter(pl.col("at") >= since)["number"]
    given = hand_out(count, of.people, of.enrolments, seen, scheme=scheme, seed=seed)
    whose = [*people, *([""] * more)]
    return tuple(
        ProposedNumber(
            person,
            here[person]["name"] if person else "",
            (here[person]["site"] or "") if person else "",
            one.number,
            one.nearest,
        )
        for person, one in zip(whose, given, strict=True)
    )


def as_file(workspace: Workspace, given: Sequence[tuple[str, str, str]], as_of: datetime) -> WaitingFile:
    """Keep numbers, each as person, name and number, as a file of people that waits on Files to be looked at.

    So it stands beside every other file: with a preview, and to be taken back. It is a part of the roster and names
    nobody else, so that whatever changes of others while it waits stays changed. Raises Refusal where it holds nobody.
    """
    if not given:
        raise Refusal(
            told("numbers for people who are to come stand in no file; give them with the roster that lists them.")
        )
    text = as_csv(("person", "name", "number"), given)
    return receive(workspace, f"{NUMBERS_FILE}{as_of.date().isoformat()}.csv", io.BytesIO(text.encode()))


def numbers_of(reckoning: Reckoning, *, site: str = "", person: str = "") -> list[tuple[str, str, str]]:
    """Return name, site and number of a site's people, or of one person, who have a number."""
    meant = pl.col("person") == person if person else pl.col("site") == site
    here = reckoning.snapshot.here(reckoning.day).filter(meant, pl.col("number").is_not_null())
    return [
        (name, place or "", number) for name, place, number in here.sort("name").select("name", "site", "number").rows()
    ]


def print_numbers(reckoning: Reckoning, numbers: Sequence[tuple[str, str, str]], *, language: str = "en") -> bytes:
    """Return tear-off slips as PDF for (name, site, number), each for its owner alone."""
    if not numbers:
        raise Refusal(told("nobody there has a number, so there is no slip to print."))
    items = ROUND_ITEMS.rows(
        {
            "item": f"slip {place}",
            "round": "slips",
            "reader": site,
            "position": place,
            "starts_at": None,
            "action": "enrol",
            "number": number,
            "person": None,
            "name": name,
            "language": language,
            "stands": None,
        }
        for place, (name, site, number) in enumerate(numbers, start=1)
    )
    zones = {site: reckoning.zone for _, site, _ in numbers}
    day = reckoning.as_of.astimezone(UTC).date()
    return print_slips(items, Heading(as_day(day), day, zones, {}), round_stationery(), paper=reckoning.snapshot.paper)
