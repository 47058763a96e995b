"""Accepted punches arrive under a number nobody owns."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.compared import discrepancies
from evenhand.checks.estimates import in_period, minutes_behind
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import as_duration, as_moment, counted, deadline
from evenhand.terms.records import Finding, Stake

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
    told = _explanations(facts)
    strays = (
        in_period(facts, facts.unowned).filter(~pl.col("number").is_in(sorted(shared))).sort("reader", "number", "at")
    )
    for (reader, number), punches in strays.partition_by("reader", "number", as_dict=True, maintain_order=True).items():
        zone = facts.reader_zones.get(str(reader), facts.zone)
        minutes = minutes_behind(facts, punches, zone)
        span = f"from {as_moment(punches['at'][0], zone)} to {as_moment(punches['at'][-1], zone)}"
        count = counted(punches.height, "punch", "punches")
        yield Finding(
            code=CHECK.code,
            subject=f"{reader}/{number}",
            reader=str(reader),
            number=str(number),
            says=f"{count} under {number} at {reader} belong to nobody.",
            evidence=(
                f"{count} accepted at {reader} under {number}, {span}.",
                *told.get((str(reader), str(number)), ()),
                f"About {as_duration(minutes)} of pay, estimated from the first to the last punch of each day.",
            ),
            stake=Stake(minutes=minutes, people=1, deadline=deadline(facts)),
            next_step=f"On Strays, look at who could have keyed {number} at {reader}, ask them, and attribute the "
            "punches; then have a supervisor enrol that hand there under the roster's number.",
            blocks_pay=True,
            details={"punches": punches["punch"].to_list()},
        )


def _explanations(facts: Facts) -> dict[tuple[str, str], list[str]]:
    told: dict[tuple[str, str], list[str]] = {}
    for kind in ("wrong_number", "lost_zeros", "unknown_enrolment", "leaver_enrolled", "unowned_punches"):
        for row in discrepancies(facts, kind):
            if row["reader"] and row["number"]:
                told.setdefault((row["reader"], row["number"]), []).append(row["evidence"] + ".")
    return told
