"""Punches were given to somebody by hand, and the roster has given their number to somebody else since.

The worse mistake is silence: one of the two is not paid. Who was asked already and has answered is not asked again.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.estimates import in_period, minutes_behind
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="attribution_overtaken",
    title=told("Given to one person, and by the roster another's"),
    why=told(
        "Somebody gave punches under a number that was nobody's, or another's, to one person. A "
        "roster taken later gives that number to somebody else: the punches are paid to the "
        "first, and may be the second's."
    ),
    next_step=told("On Strays, say again whose they are: confirm them, or return them to whoever holds the number."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader, number, person and holder with such punches in the period."""
    keys = ["reader", "number", "person", "holder"]
    punches = in_period(facts, facts.overtaken).sort(*keys, "at")
    behind = {tuple(of): minutes for *of, minutes in minutes_behind(facts, punches, keys).iter_rows()}
    grouped = punches.group_by(keys, maintain_order=True).agg(
        "punch", pl.col("author", "reason", "made_at").last(), first=pl.col("at").first(), last=pl.col("at").last()
    )
    for row in grouped.iter_rows(named=True):
        yield _of_number(facts, row, behind[tuple(row[name] for name in keys)])


def _of_number(facts: Facts, row: dict[str, Any], minutes: int) -> Finding:
    reader, number = row["reader"], row["number"]
    zone = facts.reader_zones.get(reader, facts.zone)
    given, holder = call(facts, row["person"]), call(facts, row["holder"])
    count = told("{count:# punch|# punches}", count=len(row["punch"]))
    first, last, made_at = (told("{at:zoned}", at=Moment(row[name], zone)) for name in ("first", "last", "made_at"))
    return Finding(
        code=CHECK.code,
        subject=f"{reader}/{number}/{row['person']}/{row['holder']}",
        person=row["person"],
        reader=reader,
        number=number,
        says=told(
            "{count} under {number} at {reader} were given to {given}; by the roster the number is "
            "now that of {holder}.",
            count=count,
            number=number,
            reader=reader,
            given=given,
            holder=holder,
        ),
        evidence=(
            told("{count} at {reader}, from {first} to {last}.", count=count, reader=reader, first=first, last=last),
            told(
                "Given to {given} by {author}, {made_at}: {reason}.",
                given=given,
                author=row["author"],
                made_at=made_at,
                reason=row["reason"],
            ),
            told(
                "About {minutes:duration} of pay, estimated from the stretches of work they form.", minutes=60 * minutes
            ),
        ),
        stake=Stake(minutes=minutes, people=2, deadline=deadline(facts)),
        next_step=told(
            "Ask both. On Strays, confirm again that the punches of {reader}/{number} are those of "
            "{given}, or undo it, so that they are those of {holder}.",
            reader=reader,
            number=number,
            given=given,
            holder=holder,
        ),
        blocks_pay=True,
        details={"punches": row["punch"]},
    )
