"""Accepted punches arrive under a number nobody holds."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.disagreement import by
from evenhand.checks.estimates import in_period, minutes_behind
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import with_days

CHECK = Check(
    code="unattributed_punches",
    title=told("Punches under numbers nobody holds"),
    why=told(
        "The number is the only link between a hand and a person. A hand enrolled under a number "
        "that is not the roster's is accepted every day, and none of those hours reach anybody's "
        "pay."
    ),
    next_step=told(
        "On Strays, find out whose hand it is and attribute the punches; then enrol it under the right number."
    ),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader and number with unattributed punches in the period.

    Numbers that two people hold are left to `shared_number`.
    """
    shared = facts.discrepancies_of("shared_number").filter(pl.col("reader").is_null())["number"].unique()
    strays = in_period(facts, facts.unattributed.filter(~pl.col("number").is_in(shared.implode())))
    explained = by(_explanations(facts), "reader", "number")
    keys = ["reader", "number"]
    every = (
        strays.sort(*keys, "at")
        .group_by(keys, maintain_order=True)
        .agg("punch", first=pl.col("at").first(), last=pl.col("at").last())
    )
    behind = {(reader, number): minutes for reader, number, minutes in minutes_behind(facts, strays, keys).iter_rows()}
    for row in every.iter_rows(named=True):
        reader, number = row["reader"], row["number"]
        yield _of_stray(facts, row, behind[reader, number], explained.get((reader, number), []))


def _of_stray(facts: Facts, row: dict[str, Any], minutes: int, explained: list[dict[str, Any]]) -> Finding:
    reader, number = row["reader"], row["number"]
    meant = next((one for one in explained if one["kind"] in ("wrong_number", "lost_zeros")), None)
    zone = facts.reader_zones.get(reader, facts.zone)
    count = told("{count:# punch|# punches}", count=len(row["punch"]))
    first, last = (told("{at:zoned}", at=Moment(row[end], zone)) for end in ("first", "last"))
    return Finding(
        code=CHECK.code,
        subject=f"{reader}/{number}",
        reader=reader,
        number=number,
        says=told(
            "{count:# punch|# punches} under {number} at {reader} {count:belongs|belong} to nobody.",
            count=len(row["punch"]),
            number=number,
            reader=reader,
        ),
        evidence=(
            told(
                "{count} accepted at {reader} under {number}, from {first} to {last}.",
                count=count,
                reader=reader,
                number=number,
                first=first,
                last=last,
            ),
            *(told("{says:again}.", says=with_days(one["evidence"])) for one in explained),
            told(
                "About {minutes:duration} of pay, estimated from the stretches of work they form.", minutes=60 * minutes
            ),
        ),
        stake=Stake(minutes=minutes, people=1, deadline=deadline(facts)),
        next_step=_next_step(facts, reader, number, meant),
        blocks_pay=True,
        details={
            "punches": row["punch"],
            "proposed": meant and meant["person"],
            "leaver": next((one["person"] for one in explained if one["kind"] == "leaver_enrolled"), None),
        },
    )


def _explanations(facts: Facts) -> list[dict[str, Any]]:
    kinds = ("wrong_number", "lost_zeros", "leaver_enrolled", "unknown_enrolment")
    explained = pl.concat([facts.discrepancies_of(kind) for kind in kinds])
    plain = facts.discrepancies_of("unattributed_punches").join(explained, on=["reader", "number"], how="anti")
    return pl.concat([explained, plain]).rows(named=True)


def _next_step(facts: Facts, reader: str, number: str, meant: dict[str, Any] | None) -> str:
    if meant is None:
        return told(
            "On Strays, look at who could have keyed {number} at {reader}, ask them, and attribute "
            "the punches; then have a supervisor enrol that hand there under the roster's number.",
            number=number,
            reader=reader,
        )
    who = call(facts, meant["person"])
    if meant["kind"] == "lost_zeros" and len(meant["other"]) < len(number):
        return told(
            "On People, give {who} the number {number} with its zeros; the punches are then theirs by themselves.",
            who=who,
            number=number,
        )
    return told(
        "Ask {who} to key {number} at {reader}; if the hand is accepted there, attribute the "
        "punches on Strays, and put the enrolment right by the steps for {reader} on Readers.",
        who=who,
        number=number,
        reader=reader,
    )
