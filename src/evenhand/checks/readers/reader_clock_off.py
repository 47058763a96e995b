"""A reader's clock runs ahead: it logs punches that have not happened yet."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_duration, as_zoned_moment, counted

ALLOWED_S = 5 * 60

CHECK = Check(
    code="reader_clock_off",
    title="A reader's clock may run ahead",
    why="A punch later than the moment its log is looked at cannot have happened yet: the reader's clock, or the zone "
    "given for it, is wrong, and then every other punch of that reader is wrong as well. A clock that runs behind "
    "leaves no such trace, so silence here proves nothing.",
    next_step="Compare the reader's clock and its zone with a clock you trust.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader with punches more than five minutes in the future: a suspicion."""
    ahead = facts.recorded.filter(pl.col("at") > facts.as_of + ALLOWED_S).sort("at")
    for (name,), punches in ahead.partition_by("reader", as_dict=True, maintain_order=True).items():
        reader = str(name)
        zone = facts.reader_zones.get(reader, facts.zone)
        last = punches["at"][-1]
        people = punches["number"].n_unique()
        yield Finding(
            code=CHECK.code,
            subject=reader,
            reader=reader,
            says=f"The clock of {reader} may run ahead.",
            evidence=(
                f"{counted(punches.height, 'presentation')} logged later than now, "
                f"{as_zoned_moment(facts.as_of, zone)}; the last "
                f"at {as_zoned_moment(last, zone)}, {as_duration(last - facts.as_of)} ahead.",
                f"{counted(people, 'number')} among them.",
            ),
            stake=Stake(people=people),
            next_step=f"At {reader}, compare its clock with one you trust and its zone with {zone} on Readers; "
            "if the zone was "
            "wrong, put it right and take the log again.",
            details={"ahead_s": last - facts.as_of},
        )
