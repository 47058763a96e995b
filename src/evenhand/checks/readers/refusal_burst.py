"""Several hands were refused at one reader within half an hour."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_clock
from evenhand.terms.zones import civil_date

RECENT_S = 7 * 86_400

CHECK = Check(
    code="refusal_burst",
    title=told("Several hands were refused at once"),
    why=told(
        "Three or more hands refused within half an hour, beyond chance at that reader, in the "
        "last seven days: a smear, the sun, a knock. Somebody may have gone home without a punch."
    ),
    next_step=told("Wipe the platen, see what was on it or shone on it then, and ask who could not clock."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per burst of the last seven days."""
    recent = facts.health.filter(pl.col("kind") == "refusal_burst", pl.col("since") > facts.as_of - RECENT_S)
    for row in recent.iter_rows(named=True):
        reader, zone = row["reader"], facts.reader_zones.get(row["reader"], facts.zone)
        yield Finding(
            code=CHECK.code,
            subject=f"{reader}/{as_clock(row['since'], zone)}",
            reader=reader,
            day=civil_date(zone, row["since"]),
            says=told("{reader} refused {people} hands within half an hour.", reader=reader, people=row["people"]),
            evidence=(
                told(
                    "{count} of {trials} presentations from {at:zoned} on.",
                    count=row["count"],
                    trials=row["trials"],
                    at=Moment(row["since"], zone),
                ),
            ),
            stake=Stake(people=row["people"]),
            next_step=told(
                "Wipe the platen, and see what was on it or shone on it then; look on Hours for who has no punch."
            ),
        )
