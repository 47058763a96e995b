"""The log of a reader is missing for part of the period, or that of a whole site.

Silence would send a file to payroll that lacks the hours of everybody who used the reader; a cry on a holiday costs one
answer. So a day without logs is asked about wherever chance would hardly leave it so, once for a site and its readers.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import deadline
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_day, as_span_of_days, as_zoned_moment, counted, listed

CHECK = Check(
    code="log_missing",
    title="A log does not reach over the period",
    why="A file for payroll made from logs that end too early looks whole, and leaves out everybody's hours after it. "
    "Each day of the period is held against the same weekday of up to six weeks before: a reader, or a site, without "
    "any presentation is named where chance alone would leave it so in less than one of a thousand, and no file with "
    "its punches goes on any further. Where no earlier week is known, days from Monday to Friday without logs are "
    "asked about.",
    next_step="Take the log that is wanted; where nobody worked, settle the finding with that reason.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per site, or reader, and run of days that are missing."""
    for row in facts.gaps.filter(pl.col("kind").is_in(["site_day", "reader_log"])).iter_rows(named=True):
        yield _of_site(facts, row) if row["kind"] == "site_day" else _of_reader(facts, row)


def _days(row: dict[str, Any]) -> str:
    return as_day(row["day"]) if row["days"] == 1 else as_span_of_days(row["day"], row["until"])


def _of_site(facts: Facts, row: dict[str, Any]) -> Finding:
    readers = sorted(reader for reader, site in facts.reader_sites.items() if site == row["site"])
    why = {
        "scheduled": "People are scheduled there then.",
        "usual": f"{counted(row['usual'], 'presentation')} came on the same weekday of {counted(row['weeks'], 'week')} "
        "before.",
        "unknown": "No earlier week tells on which days this site works.",
    }
    return _finding(
        facts,
        row,
        subject=f"{row['site']}/{row['until']}",
        says=f"No log of {row['site']} holds anything of {_days(row)}.",
        evidence=why[row["evidence"]],
        wanted=f"Take the logs of {listed(readers)} for {_days(row)}",
        people=sum(site == row["site"] for site in facts.sites.values()),
    )


def _of_reader(facts: Facts, row: dict[str, Any]) -> Finding:
    reader = row["reader"]
    zone = facts.reader_zones.get(reader, facts.zone)
    since = f" after {as_zoned_moment(row['since'], zone)}" if row["since"] is not None else ""
    days = "" if row["since"] is not None and row["days"] == 1 else f" of {_days(row)}"
    return _finding(
        facts,
        row,
        subject=f"{reader}/{row['until']}",
        says=f"The log of {reader} holds nothing{days}{since}.",
        evidence=f"{counted(row['usual'], 'presentation')} came in the same hours of {counted(row['weeks'], 'week')} "
        f"before, and no file with punches of {reader} reaches further.",
        wanted=f"Take the log of {reader} for {_days(row)}",
        people=round(row["usual"] / max(row["weeks"], 1) / 2),
    )


def _finding(
    facts: Facts, row: dict[str, Any], *, subject: str, says: str, evidence: str, wanted: str, people: int
) -> Finding:
    return Finding(
        code=CHECK.code,
        subject=subject,
        day=row["day"],
        reader=row["reader"],
        says=says,
        evidence=(evidence,),
        stake=Stake(people=people, deadline=deadline(facts)),
        next_step=f"{wanted}; where nobody worked there, settle this with that reason.",
        blocks_pay=True,
        details={"site": row["site"], "until": row["until"].isoformat(), "days": row["days"]},
    )
