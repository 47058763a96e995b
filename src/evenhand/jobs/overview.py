"""People and readers at a glance: who is where under which number, and how each reader stands."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Any

import polars as pl

from evenhand.jobs.today import Today
from evenhand.terms.columns import Frame

__all__ = ["PersonSeen", "ReaderSeen", "enrolled_as", "people_seen", "readers_seen", "steps_at"]


@dataclass(frozen=True)
class PersonSeen:
    """One person of the roster with the readers that list their hand, their last punch and the period's hours.

    `is_listed` says whether the roster lists them still.
    """

    person: str
    name: str
    number: str | None
    site: str | None
    department: str | None
    is_supervisor: bool
    has_left: bool
    is_listed: bool
    readers: tuple[str, ...]
    last_at: int | None
    ordinary_s: int
    overtime_s: int
    double_s: int
    findings: int


@dataclass(frozen=True)
class ReaderSeen:
    """One reader: how full it is, how many supervisors it holds, and how its traffic went."""

    reader: str
    site: str
    place: str | None
    zone: str
    capacity: int | None
    enrolled: int
    supervisors: int
    accepted: int
    refused: int
    last_at: int | None
    steps: int
    findings: int


def enrolled_as(today: Today) -> Frame:
    """Return person, reader and number of each hand that a reader lists.

    That is whoever holds the number now, but a leaver where the hand there is theirs still, under whichever number.
    """
    here = today.people.filter(today.is_here()).drop_nulls("number").select("person", "number")
    of_leavers = today.hands.join(here, on="person", how="anti").select("person", "reader", "number")
    listed = today.enrolments.select("reader", "number").join(of_leavers, on=["reader", "number"], how="anti")
    return pl.concat([of_leavers, listed.join(here, on="number").select(of_leavers.columns)])


def people_seen(today: Today) -> list[PersonSeen]:
    """Return everybody on the roster, by name."""
    readers = dict(enrolled_as(today).group_by("person").agg(pl.col("reader").unique().sort()).iter_rows())
    last = dict(today.hours.attributed.group_by("person").agg(pl.col("at").max()).iter_rows())
    weeks = today.hours.weeks.group_by("person").agg(pl.col("ordinary_s", "overtime_s", "double_s").sum())
    hours = {person: tuple(seconds) for person, *seconds in weeks.iter_rows()}
    findings = _counts(today, "person")
    return [
        PersonSeen(
            person=row["person"],
            name=row["name"],
            number=row["number"],
            site=row["site"],
            department=row["department"],
            is_supervisor=bool(row["is_supervisor"]),
            has_left=row["left_on"] is not None and row["left_on"] < today.day,
            is_listed=row["person"] not in today.unlisted,
            readers=tuple(readers.get(row["person"], ())),
            last_at=last.get(row["person"]),
            ordinary_s=hours.get(row["person"], (0, 0, 0))[0],
            overtime_s=hours.get(row["person"], (0, 0, 0))[1],
            double_s=hours.get(row["person"], (0, 0, 0))[2],
            findings=findings[row["person"]],
        )
        for row in today.people.sort("name", "person").iter_rows(named=True)
    ]


def readers_seen(today: Today) -> list[ReaderSeen]:
    """Return the readers, by site and name."""
    enrolled = _by_reader(
        today.enrolments.group_by("reader").agg(
            pl.len().alias("enrolled"), pl.col("is_supervisor").fill_null(value=False).sum().alias("supervisors")
        )
    )
    refused = pl.col("outcome").fill_null("accepted") == "refused"
    traffic = _by_reader(
        today.recorded.lazy()
        .filter(pl.col("at") >= today.since)
        .group_by("reader")
        .agg((~refused).sum().alias("accepted"), refused.sum().alias("refused"), pl.col("at").max().alias("last_at"))
        .collect()
    )
    steps = Counter(today.reader_steps["reader"].to_list())
    findings = _counts(today, "reader")
    seen = []
    for row in today.readers.sort("site", "reader").iter_rows(named=True):
        held = enrolled.get(row["reader"], {})
        log = traffic.get(row["reader"], {})
        seen.append(
            ReaderSeen(
                reader=row["reader"],
                site=row["site"],
                place=row["place"],
                zone=row["zone"],
                capacity=row["capacity"],
                enrolled=held.get("enrolled", 0),
                supervisors=held.get("supervisors", 0),
                accepted=log.get("accepted", 0),
                refused=log.get("refused", 0),
                last_at=log.get("last_at"),
                steps=steps[row["reader"]],
                findings=findings[row["reader"]],
            )
        )
    return seen


def steps_at(today: Today, reader: str) -> Frame:
    """Return the ordered steps that make one reader agree with the roster (READER_STEPS)."""
    return today.reader_steps.filter(pl.col("reader") == reader).sort("position")


def _by_reader(frame: Frame) -> dict[str, dict[str, Any]]:
    return {row["reader"]: row for row in frame.iter_rows(named=True)}


def _counts(today: Today, about: str) -> Counter[str]:
    subjects = (getattr(finding, about) for finding in today.findings)
    return Counter(subject for subject in subjects if subject is not None)
