"""One number stands for two people."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.compared import by, discrepancies
from evenhand.checks.estimates import in_period, minutes_behind
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_duration, as_zoned_moment, counted, listed

CHECK = Check(
    code="shared_number",
    title="One number for two people",
    why="Punches under a number that two people hold, or that holds somebody else's hand, cannot be paid to either of "
    "them without asking.",
    next_step="Give one of them another number on the roster, or enrol the hand under its own number; then attribute.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per number the roster gives to several people, and per reader with another's hand under it."""
    rows = discrepancies(facts, "shared_number")
    for (number,), pairs in by([row for row in rows if row["reader"] is None], "number").items():
        yield _on_roster(facts, number, pairs)
    for row in rows:
        if row["reader"] is not None:
            yield _at_reader(facts, row)


def _on_roster(facts: Facts, number: str, pairs: list[dict[str, str]]) -> Finding:
    people = [pairs[0]["person"], *(row["other"] for row in pairs)]
    punches = in_period(facts, facts.unowned.filter(pl.col("number") == number)).sort("at")
    minutes = minutes_behind(facts, punches)
    lines = [f"{row['evidence']}." for row in pairs]
    if punches.height:
        readers = punches["reader"].unique().sort().to_list()
        span = (
            f"from {as_zoned_moment(punches['at'][0], facts.zone)} to {as_zoned_moment(punches['at'][-1], facts.zone)}"
        )
        count = counted(punches.height, "punch", "punches")
        lines.append(f"{count} under {number} in the period at {listed(readers)}, {span}; nobody is paid for them yet.")
        lines.append(f"About {as_duration(60 * minutes)} of pay, estimated from the stretches of work they form.")
    return Finding(
        code=CHECK.code,
        subject=number,
        number=number,
        says=f"The roster gives {number} to {listed([call(facts, person) for person in people])}.",
        evidence=tuple(lines),
        stake=Stake(minutes=minutes, people=len(people), deadline=deadline(facts) if punches.height else None),
        next_step=f"On People, leave {number} to whoever's hand the readers hold under it and give the others a number "
        "of their own; have a supervisor enrol them under it, and attribute the punches on Strays.",
        blocks_pay=bool(punches.height),
        details={"people": people, "punches": punches["punch"].to_list()},
    )


def _at_reader(facts: Facts, row: dict[str, str]) -> Finding:
    reader, number = row["reader"], row["number"]
    owner, hand = call(facts, row["other"]), call(facts, row["person"])
    mine = facts.punches_of.get(row["other"], facts.owned.clear()).filter(pl.col("reader") == reader)
    punches = in_period(facts, mine)
    minutes = minutes_behind(facts, punches, ["person"])
    count = counted(punches.height, "punch", "punches")
    return Finding(
        code=CHECK.code,
        subject=f"{reader}/{number}",
        reader=reader,
        number=number,
        person=row["other"],
        says=f"At {reader}, {number} may hold the hand of {hand}, while the roster gives {number} to {owner}.",
        evidence=(f"{row['evidence']}.", f"{count} at {reader} in the period count for {owner} as things stand."),
        stake=Stake(minutes=minutes, people=2, deadline=deadline(facts) if punches.height else None),
        next_step=f"At {reader}, have a supervisor ask both to key {number}: the hand that is accepted is the one "
        "enrolled. Enrol each under their own number, and put the punches right on Hours.",
        blocks_pay=bool(punches.height),
        details={"people": [row["other"], row["person"]], "punches": punches["punch"].to_list()},
    )
