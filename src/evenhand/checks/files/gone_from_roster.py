"""Somebody whom the roster lists no longer still punches, or is still enrolled.

A silent check would leave a hand on a reader that should go, or somebody's hours without an employer; one that cries
too often names people who are there. So people whose last day is known are left to the check of leavers, and punches
from before the roster was taken prove nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.disagreement import by
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="gone_from_roster",
    title=told("Gone from the roster and still here"),
    why=told(
        "A roster that leaves somebody out says that they are employed no longer, or it is only a part of the "
        "roster. Time worked is owed either way (29 CFR 785.11 to 785.13). What a reader holds of a hand is to be "
        "deleted when its purpose ends (for Illinois 740 ILCS 14/15(a); other places have their own terms)."
    ),
    next_step=told("Find out whether they left: give their last day, or take a roster that lists them."),
)

MOST = 5  # people whom one file left out; more are told in one finding, since they have one cause
LAW = told("time worked is owed; retention: the law of the place decides")


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person, or one per roster that left out many."""
    for (take,), rows in by(_still_here(facts).rows(named=True), "take").items():
        if len(rows) > MOST:
            yield _many(facts, take, rows)
        else:
            yield from (_one(facts, row) for row in rows)


def _still_here(facts: Facts) -> Frame:
    """Return who is gone with their punches since and the readers that list their number, where there are any."""
    if facts.gone_people.is_empty():
        return facts.gone_people
    stays = pl.col("left_on").is_null() | (pl.col("left_on") > facts.today)
    gone = facts.gone_people.join(facts.people.filter(stays).select("person", "number"), on="person")
    punches = facts.attributed.join(gone.select("person", "taken_at"), on="person")
    since = punches.filter(pl.col("at") > pl.col("taken_at")).group_by("person")
    seen = since.agg(punches=pl.len(), last_at=pl.col("at").max(), last_reader=pl.col("reader").sort_by("at").last())
    lists = facts.enrolments.group_by("number").agg(pl.col("reader").sort().alias("readers"))
    found = gone.join(seen, on="person", how="left").join(lists, on="number", how="left").sort("take", "person")
    return found.filter(pl.col("punches").is_not_null() | pl.col("readers").is_not_null())


def _told(facts: Facts, row: dict[str, Any]) -> Iterator[str]:
    if row["punches"]:
        last = told("{at:zoned}", at=Moment(row["last_at"], facts.zone_of(row["person"])))
        yield told("{punches:# punch|# punches} since, the last on {last}.", punches=row["punches"], last=last)
    if row["readers"]:
        yield told("{number} is enrolled at {readers:listed}.", number=row["number"], readers=row["readers"])


def _one(facts: Facts, row: dict[str, Any]) -> Finding:
    who = call(facts, row["person"])
    taken = told("{at:zoned}", at=Moment(row["taken_at"], facts.zone))
    number = (
        told("; then remove {number} at {readers:listed}", number=row["number"], readers=row["readers"])
        if row["readers"]
        else ""
    )
    return Finding(
        code=CHECK.code,
        subject=row["person"],
        person=row["person"],
        number=row["number"],
        says=told("{who} is on the roster no longer and still punches.", who=who)
        if row["punches"]
        else told("{who} is on the roster no longer and still is enrolled.", who=who),
        evidence=(
            told(
                "{file} (take {take}, {taken}) lists everybody but them.",
                file=row["file"],
                take=row["take"],
                taken=taken,
            ),
            *_told(facts, row),
        ),
        stake=Stake(people=1, law=LAW),
        next_step=told(
            "Ask whether {who} left: if so, take a roster with their last day{number}; if not, take "
            "one that lists them.",
            who=who,
            number=number,
        ),
        details={"take": row["take"], "punches": row["punches"] or 0, "readers": row["readers"] or []},
    )


def _many(facts: Facts, take: int, rows: list[dict[str, Any]]) -> Finding:
    file, names = rows[0]["file"], [call(facts, row["person"]) for row in rows]
    punching = sum(bool(row["punches"]) for row in rows)
    return Finding(
        code=CHECK.code,
        subject=f"take {take}",
        says=told(
            "{file} leaves out {count:# person|# people} who still punch or are enrolled.", file=file, count=len(rows)
        ),
        evidence=(
            told(
                "{punching} of them have punched since it was taken, {at:zoned}.",
                punching=punching,
                at=Moment(rows[0]["taken_at"], facts.zone),
            ),
            told("They are {names:listed 12}.", names=names),
        ),
        stake=Stake(people=len(rows), law=LAW),
        next_step=told(
            "If {file} is only a part of the roster, take it back (`evenhand takes back {take}`, or "
            "on Files) and take the whole roster; otherwise give their last days.",
            file=file,
            take=take,
        ),
        details={"take": take, "people": [row["person"] for row in rows]},
    )
