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
from evenhand.terms.languages import DaySpan, Moment, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="log_missing",
    title=told("A log does not reach over the period"),
    why=told(
        "A file for payroll made from logs that end too early looks whole, and leaves out everybody's hours after "
        "it. Each day of the period is compared with the same weekday of up to six weeks before. A reader, or a "
        "site, without any presentation is named where chance alone would leave it so less than once in a thousand, "
        "and no file with its punches goes on any further. Where no earlier week is known, days from Monday to "
        "Friday without logs are asked about."
    ),
    next_step=told("Take the log that is wanted; where nobody worked, settle the finding with that reason."),
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per site, or reader, and run of days that are missing."""
    for row in facts.gaps.filter(pl.col("kind").is_in(["site_day", "reader_log"])).iter_rows(named=True):
        yield _of_site(facts, row) if row["kind"] == "site_day" else _of_reader(facts, row)


def _days(row: dict[str, Any]) -> str:
    return told("{day}", day=row["day"]) if row["days"] == 1 else told("{days}", days=DaySpan(row["day"], row["until"]))


def _of_site(facts: Facts, row: dict[str, Any]) -> Finding:
    readers = sorted(reader for reader, site in facts.reader_sites.items() if site == row["site"])
    why = {
        "scheduled": told("People are scheduled there then."),
        "usual": told(
            "{usual:# presentation|# presentations} came on the same weekday of {weeks:# week|# weeks} before.",
            usual=row["usual"],
            weeks=row["weeks"],
        ),
        "unknown": told("No earlier week tells on which days this site works."),
    }
    return _finding(
        facts,
        row,
        subject=f"{row['site']}/{row['until']}",
        says=told("No log of {site} holds anything of {days}.", site=row["site"], days=_days(row)),
        evidence=why[row["evidence"]],
        wanted=told("Take the logs of {readers:listed} for {days}", readers=readers, days=_days(row)),
        people=sum(site == row["site"] for site in facts.sites.values()),
    )


def _of_reader(facts: Facts, row: dict[str, Any]) -> Finding:
    reader = row["reader"]
    zone = facts.reader_zones.get(reader, facts.zone)
    since = told(" after {at:zoned}", at=Moment(row["since"], zone)) if row["since"] is not None else ""
    days = "" if row["since"] is not None and row["days"] == 1 else told(" of {days}", days=_days(row))
    return _finding(
        facts,
        row,
        subject=f"{reader}/{row['until']}",
        says=told("The log of {reader} holds nothing{days}{since}.", reader=reader, days=days, since=since),
        evidence=told(
            "{usual:# presentation|# presentations} came in the same hours of {weeks:# week|# weeks} "
            "before, and no file with punches of {reader} reaches further.",
            usual=row["usual"],
            weeks=row["weeks"],
            reader=reader,
        ),
        wanted=told("Take the log of {reader} for {days}", reader=reader, days=_days(row)),
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
        next_step=told("{wanted}; where nobody worked there, settle this with that reason.", wanted=wanted),
        blocks_pay=True,
        details={"site": row["site"], "until": row["until"].isoformat(), "days": row["days"]},
    )
