"""A reader logs far fewer presentations than it usually does at those hours, or on that weekday."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.logs import ended_logs
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.zones import civil_date

CHECK = Check(
    code="reader_quiet",
    title=told("A reader is quiet"),
    why=told(
        "When a reader stops, or its log was not taken, the punches of a whole shift are missing at once. Its "
        "silence up to now is compared with the same hours of six weeks before. Its count of each of the last seven "
        "days is compared with the same weekday of the eight weeks before, in step with the rest of its site. It is "
        "named where chance alone would leave so few less than once in a thousand, and on a day less than once in "
        "ten thousand. Two Poisson counts are compared exactly (Przyborowski and Wilenski, Biometrika 31, 1940, from "
        "memory)."
    ),
    next_step=told("Take the reader's log again; if it stays quiet, go and lay a hand down there."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader: silent up to now, or the latest of the last seven whole days far too quiet."""
    ended = ended_logs(facts)
    rows = facts.health.filter(pl.col("kind").is_in(["quiet", "quiet_day"]), ~pl.col("reader").is_in(list(ended)))
    for row in rows.iter_rows(named=True):
        yield _silent(facts, row) if row["kind"] == "quiet" else _too_few(facts, row)


def _silent(facts: Facts, row: dict[str, Any]) -> Finding:
    reader, zone = row["reader"], facts.reader_zones.get(row["reader"], facts.zone)
    return Finding(
        code=CHECK.code,
        subject=reader,
        day=civil_date(zone, row["since"]),
        reader=reader,
        says=told("{reader} has recorded nothing since {at:zoned}.", reader=reader, at=Moment(row["since"], zone)),
        evidence=(
            told(
                "About {usual:.0f} presentations came in the same hours of {weeks:# week|# weeks} before.",
                usual=row["usual"],
                weeks=row["weeks"],
            ),
        ),
        stake=Stake(people=round(row["usual"] / 2)),
        next_step=told("See whether {reader} has power and whether people go elsewhere; take its log.", reader=reader),
        details={"seen": 0, "usual": row["usual"], "weeks": row["weeks"]},
    )


def _too_few(facts: Facts, row: dict[str, Any]) -> Finding:
    reader = row["reader"]
    return Finding(
        code=CHECK.code,
        subject=reader,
        day=row["day"],
        reader=reader,
        says=told("{reader} was quiet on {day}.", reader=reader, day=row["day"]),
        evidence=(
            told(
                "{count:# presentation|# presentations} logged that day ({reader_zones}); about "
                "{usual:.0f} would be usual, from the same weekday of {weeks:# week|# weeks} before and "
                "the rest of the site that day.",
                count=row["count"],
                reader_zones=facts.reader_zones[reader],
                usual=row["usual"],
                weeks=row["weeks"],
            ),
            told("A holiday or a closed door would explain it as well."),
        ),
        stake=Stake(people=round(row["usual"] / 2)),
        next_step=told(
            "Take the log of {reader} again; if nothing more arrives, go to it and lay a hand down.", reader=reader
        ),
        details={"seen": row["count"], "usual": row["usual"], "weeks": row["weeks"]},
    )
