"""Somebody who was to come left no punch.

Silence would leave a day's pay out where a reader refused a hand or a supervisor forgot; a cry over a day off costs one
answer. Only people who are scheduled, or come on nearly all such days, are asked about, and a run of days once.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import polars as pl

from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call, deadline
from evenhand.terms.columns import Frame
from evenhand.terms.languages import DaySpan, told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.zones import DAY_S, civil_date, utc_start

CHECK = Check(
    code="no_punches",
    title=told("Somebody left no punch on a day they were to work"),
    why=told(
        "A day without any punch looks like a day off, and is paid as one. Time worked is owed whether or not it was "
        "punched (29 CFR 785.11 to 785.13). Whoever was scheduled is named. Where nobody schedules people, whoever "
        "worked on at least three such weekdays of up to six weeks before is named, if those were four of five. "
        "Where somebody came to the site on the day, only weekdays on which somebody came are counted. Nobody is "
        "named whose leave is on file for the day."
    ),
    next_step=told(
        "Ask whether they worked: add the punches on Hours, take a file of leave, or settle this as absent."
    ),
)
DAY_MIN = 8 * 60
"""What a day of work stands for where nothing of it is known (common practice, no source) [min]."""

NEXT = {
    "stray": told("Decide on Strays whose those punches are; once they are theirs, this is answered by itself."),
    "not_enrolled": told(
        "Ask whether they worked, and have them enrolled at a reader of the site: add the "
        "punches on Hours, or settle this as absent, with the reason."
    ),
    "scheduled": told("Ask whether they worked: add the punches on Hours, or settle this as absent, with the reason."),
}
"""By what may be behind it: punches under another number, no enrolment at the site, or only that they were to come."""
ENROLLED = {"not_enrolled": (told("No reader of the site has them enrolled, so that none could accept them."),)}


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and run of days."""
    missing = facts.gaps.filter(pl.col("kind") == "person_days")
    not_enrolled = set(facts.discrepancies_of("not_enrolled")["person"])
    refused = _refused(facts, missing)
    for row in missing.iter_rows(named=True):
        theirs = _strays(facts, row)
        refused_at = [reader for reader, day in refused.get(row["person"], ()) if row["day"] <= day <= row["until"]]
        cause = "stray" if theirs else "not_enrolled" if row["person"] in not_enrolled else row["evidence"]
        yield Finding(
            code=CHECK.code,
            subject=f"{row['person']}/{row['until']}",
            day=row["day"],
            person=row["person"],
            says=told("{who} left no punch {when}.", who=call(facts, row["person"]), when=_when(row)),
            evidence=(
                _why(row),
                *_was_refused(refused_at),
                *(_may_be(reader, number) for reader, number in theirs),
                *ENROLLED.get(cause, ()),
            ),
            stake=Stake(minutes=DAY_MIN * row["days"], people=1, deadline=deadline(facts)),
            next_step=NEXT.get(cause, NEXT["scheduled"]),
            blocks_pay=True,
            details={
                "site": row["site"],
                "until": row["until"].isoformat(),
                "days": row["days"],
                "cause": cause,
                "strays": theirs,
                "refused_at": refused_at,
                "readers": facts.usual_readers.get(row["person"], ()),
            },
        )


def _refused(facts: Facts, missing: Frame) -> dict[str, list[tuple[str, date]]]:
    """Return by person the reader and day of each reader's first refusal of a day, under the person's own number."""
    asked = facts.people.join(missing.select("person"), on="person", how="semi").select("person", "number")
    tried = facts.recorded.filter(
        pl.col("outcome") == "refused", pl.col("at") >= utc_start(facts.period.first) - 2 * DAY_S
    ).join(asked, on="number")
    found: dict[str, list[tuple[str, date]]] = {}
    for person, reader, at in tried.sort("at").select("person", "reader", "at").iter_rows():
        one = reader, civil_date(facts.reader_zones.get(reader, facts.zone), at)
        theirs = found.setdefault(person, [])
        if one not in theirs:
            theirs.append(one)
    return found


def _was_refused(readers: list[str]) -> tuple[str, ...]:
    if not readers:
        return ()
    return (
        told("A hand was refused then under their number at {fromkeys:listed}.", fromkeys=list(dict.fromkeys(readers))),
    )


def _strays(facts: Facts, row: dict[str, Any]) -> list[tuple[str, str]]:
    """Return the readers and numbers under which punches that may be theirs lie on these days."""
    days = (
        ((reader, number), civil_date(facts.reader_zones.get(reader, facts.zone), at))
        for reader, number, at in facts.strays_of.get(row["person"], ())
    )
    return list(dict.fromkeys(one for one, day in days if row["day"] <= day <= row["until"]))


def _may_be(reader: str, number: str) -> str:
    return told(
        "Punches under {number} at {reader} on these days belong to nobody, and may be theirs.",
        number=number,
        reader=reader,
    )


def _when(row: dict[str, Any]) -> str:
    if row["days"] == 1:
        return told("on {day}", day=row["day"])
    return told(
        "on {days:# day|# days} they were to work, {days2}", days=row["days"], days2=DaySpan(row["day"], row["until"])
    )


def _why(row: dict[str, Any]) -> str:
    if row["evidence"] == "scheduled":
        return told("A shift is scheduled for them then, and no leave is on file.")
    return told(
        "They worked on {usual} of {weeks:# such day|# such days} before, and no leave is on file.",
        usual=row["usual"],
        weeks=row["weeks"],
    )
