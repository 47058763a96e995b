"""A roster gave one person's number to another, and some punches lie on days of which no roster says whose it was.

The worse mistake is to move hours that were paid: what an earlier roster told of its time stays, and is asked about.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.estimates import in_period, minutes_behind
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="number_handed_on",
    title=told("A number that was another's before"),
    why=told(
        "A roster gives a number to one person that an earlier roster gave to another. On the days between the two, or "
        "where both were employed all along, no roster says whose the punches under it are."
    ),
    next_step=told(
        "Ask both. Settle it where they are the earlier holder's; else put the punches right on Hours, or take back on "
        "Files the roster that was mistaken."
    ),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per number, earlier and later holder with punches on such days that count for the earlier one."""
    if facts.number_doubts.is_empty():
        return
    keys = ["number", "person", "later", "take"]
    punches = _in_doubt(facts)
    here = set(in_period(facts, punches)["punch"])
    behind = {tuple(of): minutes for *of, minutes in minutes_behind(facts, punches, keys).iter_rows()}
    files = dict(facts.files.select("take", "file").iter_rows())
    grouped = punches.group_by(keys, maintain_order=True).agg(
        "punch", pl.col("reader").unique().sort(), first=pl.col("at").first(), last=pl.col("at").last()
    )
    for row in grouped.iter_rows(named=True):
        file = files.get(row["take"], "")
        blocks = not here.isdisjoint(row["punch"])
        yield _of_number(facts, row, file, behind[tuple(row[name] for name in keys)], blocks_pay=blocks)


def _in_doubt(facts: Facts) -> Frame:
    """The punches of the earlier holders on the days in doubt: those given to somebody else by hand are none."""
    came = facts.recorded.select("punch", "number").join(facts.number_doubts, on="number")
    theirs = facts.attributed.with_columns(pl.col("person").cast(pl.String)).join(came, on=["punch", "person"])
    day = civil_days(theirs["at"], theirs["zone"])
    within = (day <= theirs["last_on"]) & (day >= theirs["first_on"]).fill_null(value=True)
    return theirs.filter(within).sort("number", "later", "at")


def _of_number(facts: Facts, row: dict[str, Any], file: str, minutes: int, *, blocks_pay: bool) -> Finding:
    number, punches = row["number"], row["punch"]
    earlier, later = call(facts, row["person"]), call(facts, row["later"])
    first, last = (told("{at:zoned}", at=Moment(row[name], facts.zone)) for name in ("first", "last"))
    return Finding(
        code=CHECK.code,
        subject=f"{number}/{row['person']}/{row['later']}",
        person=row["person"],
        number=number,
        says=told(
            "{number} was the number of {earlier} by the roster, and is that of {later} since {file}.",
            number=number,
            earlier=earlier,
            later=later,
            file=file or told("a later one"),
        ),
        evidence=(
            told(
                "{count:# punch counts|# punches count} for {earlier}, at {readers:listed}, from {first} to {last}; no "
                "roster says that {later} did not have the number by then.",
                count=len(punches),
                earlier=earlier,
                readers=row["reader"],
                first=first,
                last=last,
                later=later,
            ),
            told(
                "About {minutes:duration} of pay, estimated from the stretches of work they form.", minutes=60 * minutes
            ),
        ),
        stake=Stake(minutes=minutes, people=2, deadline=deadline(facts) if blocks_pay else None),
        next_step=told(
            "Ask both since when {later} has keyed {number}. Settle this where the punches are those of {earlier}; "
            "else put them right on Hours, or take back on Files the roster that was mistaken.",
            later=later,
            number=number,
            earlier=earlier,
        ),
        blocks_pay=blocks_pay,
        details={"punches": punches},
    )
