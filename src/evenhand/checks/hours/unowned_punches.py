"""Accepted punches arrive under a number nobody owns."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.compared import by, discrepancies
from evenhand.checks.estimates import in_period, minutes_behind
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_duration, as_zoned_moment, counted

CHECK = Check(
    code="unowned_punches",
    title="Punches that nobody owns",
    why="The number is the only link between a hand and a person. A hand enrolled under a number that is not the "
    "roster's is accepted every day, and none of those hours reach anybody's pay.",
    next_step="On Strays, find out whose hand it is and attribute the punches; then enrol it under the right number.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader and number with unowned punches in the period.

    Numbers that two people hold are left to `shared_number`.
    """
    shared = {row["number"] for row in discrepancies(facts, "shared_number") if row["reader"] is None}
    told = by(_explanations(facts), "reader", "number")
    strays = (
        in_period(facts, facts.unowned).filter(~pl.col("number").is_in(sorted(shared))).sort("reader", "number", "at")
    )
    for (reader, number), punches in strays.partition_by("reader", "number", as_dict=True, maintain_order=True).items():
        explained = told.get((reader, number), [])
        meant = next((row for row in explained if row["kind"] in ("wrong_number", "lost_zeros")), None)
        zone = facts.reader_zones.get(str(reader), facts.zone)
        minutes = minutes_behind(facts, punches)
        span = f"from {as_zoned_moment(punches['at'][0], zone)} to {as_zoned_moment(punches['at'][-1], zone)}"
        count = counted(punches.height, "punch", "punches")
        yield Finding(
            code=CHECK.code,
            subject=f"{reader}/{number}",
            reader=str(reader),
            number=str(number),
            says=f"{count} under {number} at {reader} belong to nobody.",
            evidence=(
                f"{count} accepted at {reader} under {number}, {span}.",
                *(f"{row['evidence']}." for row in explained),
                f"About {as_duration(60 * minutes)} of pay, estimated from the stretches of work they form.",
            ),
            stake=Stake(minutes=minutes, people=1, deadline=deadline(facts)),
            next_step=_next_step(facts, str(reader), str(number), meant),
            blocks_pay=True,
            details={"punches": punches["punch"].to_list(), "proposed": meant and meant["person"]},
        )


def _explanations(facts: Facts) -> list[dict[str, Any]]:
    kinds = ("wrong_number", "lost_zeros", "leaver_enrolled", "unknown_enrolment")
    rows = [row for kind in kinds for row in discrepancies(facts, kind)]
    explained = {(row["reader"], row["number"]) for row in rows}
    plain = discrepancies(facts, "unowned_punches")
    return rows + [row for row in plain if (row["reader"], row["number"]) not in explained]


def _next_step(facts: Facts, reader: str, number: str, meant: dict[str, Any] | None) -> str:
    if meant is None:
        return (
            f"On Strays, look at who could have keyed {number} at {reader}, ask them, and attribute the punches; then "
            "have a supervisor enrol that hand there under the roster's number."
        )
    who = call(facts, meant["person"])
    if meant["kind"] == "lost_zeros" and len(meant["other"]) < len(number):
        return f"On People, give {who} the number {number} with its zeros; the punches are then theirs by themselves."
    return (
        f"Ask {who} to key {number} at {reader}; if the hand is accepted there, attribute the punches on Strays, and "
        f"put the enrolment right by the steps for {reader} on Readers."
    )
