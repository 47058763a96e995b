"""A reader's clock is off: it logs what has not happened yet, or disagrees with the readers its people also use."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.terms.languages import Moment, sentence, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="reader_clock_off",
    title=told("A reader's clock may be off"),
    why=told(
        "A presentation later than the moment its log was taken cannot have happened yet. People who use two readers "
        "bring the same hours to both, so that a clock off by more than a minute stands out. The clock, or the zone "
        "given for it, is wrong then, and so is every other punch of that reader. A reader that nobody shares, and "
        "whose clock runs behind, leaves no such trace."
    ),
    next_step=told("Compare the reader's clock and its zone with a clock you trust."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader: a suspicion."""
    kinds = facts.health.filter(pl.col("kind").is_in(["file_ahead", "clock"])).sort("reader", "kind")
    for row in kinds.unique("reader", keep="last", maintain_order=True).iter_rows(named=True):
        yield _ahead(facts, row) if row["kind"] == "file_ahead" else _apart(facts, row)


def _ahead(facts: Facts, row: dict[str, Any]) -> Finding:
    reader, ahead = row["reader"], int(row["size"])
    zone = facts.reader_zones.get(reader, facts.zone)
    return Finding(
        code=CHECK.code,
        subject=reader,
        reader=reader,
        says=told("The clock of {reader} may run ahead.", reader=reader),
        evidence=(
            told(
                "{count:# presentation|# presentations} logged later than the log was taken; the last at "
                "{at:zoned}, {ahead:duration} ahead.",
                count=row["count"],
                at=Moment(row["until"], zone),
                ahead=ahead,
            ),
            told("{people:# number|# numbers} among them.", people=row["people"]),
        ),
        stake=Stake(people=row["people"]),
        next_step=_compare(reader, zone),
        details={"ahead_s": ahead},
    )


def _apart(facts: Facts, row: dict[str, Any]) -> Finding:
    reader, off = row["reader"], round(row["size"])
    way = (
        sentence("The clock of {reader} runs about {about} ahead of the other readers its people use.")
        if off > 0
        else sentence("The clock of {reader} runs about {about} behind the other readers its people use.")
    )
    low, high = sorted(abs(round(row[end])) for end in ("low", "high"))
    return Finding(
        code=CHECK.code,
        subject=reader,
        reader=reader,
        says=told(way, reader=reader, about=_about(off)),
        evidence=(
            told(
                "Between {about} and {about2}, from the hours at which the same people come and go.",
                about=_about(low),
                about2=_about(high),
            ),
        ),
        stake=Stake(people=facts.enrolled_at(reader)),
        next_step=_compare(reader, facts.reader_zones.get(reader, facts.zone)),
        details={"ahead_s": off},
    )


def _about(seconds: int) -> str:
    return (
        told("{time:duration}", time=round(abs(seconds) / 60) * 60)
        if abs(seconds) >= 90
        else told("{time:duration}", time=seconds)
    )


def _compare(reader: str, zone: str) -> str:
    return told(
        "At {reader}, compare its clock with one you trust and its zone with {zone} on Readers; "
        "if the zone was wrong, put it right and take the log again; then correct the hours it "
        "touched.",
        reader=reader,
        zone=zone,
    )
