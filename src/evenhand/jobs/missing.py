"""Days whose punches leave something open, with what is proposed, by whoever may know: a supervisor's list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import polars as pl

from evenhand.jobs.proposed import proposals_of_period
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.suggestions import SuggestionListed, list_suggestions
from evenhand.records.supervising import supervisors_of
from evenhand.terms import csv_text
from evenhand.terms.open_punches import (
    Offered,
    minutes_in_doubt,
    offered_of,
    say_proposal,
    say_punch,
    say_question,
)
from evenhand.terms.zones import civil_date

__all__ = ["ANSWERS", "LISTED", "OpenDay", "as_csv", "open_days", "supervisors_asked"]

ANSWERS = ("answer_day", "answer_time", "answer_way", "answer_words")
"""The columns that a supervisor fills in."""
LISTED = (
    *("person", "name", "number", "department", "site", "day", "zone", "questions", "punches", "proposed"),
    *ANSWERS,
)
"""The columns of the list as a file."""


@dataclass(frozen=True)
class OpenDay:
    """A person's day with open questions, its punches and what is proposed, all in words on the site's clock.

    `minutes` of pay are in doubt. `offered` is what a form may hold already, `suspects` the punches of the day as a
    form lists them: when [s since 1970-01-01T00:00:00Z] and in words. `said` are the suggestions that wait.
    """

    person: str
    name: str
    number: str | None
    site: str | None
    department: str | None
    supervisors: tuple[str, ...]
    day: date
    zone: str
    asks: tuple[str, ...]
    suspects: tuple[tuple[int, str], ...]
    proposed: tuple[str, ...]
    offered: Offered
    minutes: int
    said: tuple[SuggestionListed, ...]

    @property
    def punches(self) -> list[str]:
        """Return the punches of the day in words."""
        return [told for _, told in self.suspects]


def open_days(reckoning: Reckoning, day: date | None = None, supervisor: str | None = None) -> list[OpenDay]:
    """Return the days with open questions in the period that holds `day`, by site, department, name and day.

    With a `supervisor`, by the roster's identifier, only those of the people that supervisor is asked about.
    """
    period = reckoning.period(day)
    every = reckoning.part(("open days", period), lambda: _open_days(reckoning, day))
    return [one for one in every if supervisor is None or supervisor in one.supervisors]


def supervisors_asked(days: Sequence[OpenDay]) -> dict[str, int]:
    """Return of how many open days each supervisor is asked, the one who is asked of most first."""
    counts: dict[str, int] = {}
    for one in days:
        for who in one.supervisors:
            counts[who] = counts.get(who, 0) + 1
    return dict(sorted(counts.items(), key=lambda asked: (-asked[1], asked[0])))


def _open_days(reckoning: Reckoning, day: date | None) -> list[OpenDay]:
    of, period = reckoning.snapshot, reckoning.period(day)
    hours = reckoning.hours_between(period.first, period.last)
    proposed: dict[tuple[str, int], Mapping[str, Any]] = {
        (row["person"], row["punch"]): row
        for row in proposals_of_period(reckoning, hours, period).iter_rows(named=True)
    }
    people = {row["person"]: row for row in of.people.iter_rows(named=True)}

    def zone_of(person: str) -> str:
        return of.rules_of(people[person]["site"]).zone if person in people else reckoning.zone

    asked: dict[tuple[str, date], list[dict[str, Any]]] = {}
    for row in hours.questions.sort("person", "at").iter_rows(named=True):
        asked.setdefault((row["person"], civil_date(zone_of(row["person"]), row["at"])), []).append(row)
    named = {person for person, _ in asked}
    theirs = hours.attributed.filter(pl.col("person").is_in(list(named))).sort("at")
    punched: dict[tuple[str, date], list[tuple[int, str]]] = {}
    for person, at, way, reader in theirs.select("person", "at", "direction", "reader").iter_rows():
        zone = zone_of(person)
        punched.setdefault((person, civil_date(zone, at)), []).append((at, say_punch(at, zone, way, reader)))
    supervisors = supervisors_of(of.people, period.first)
    waiting = list_suggestions(of)
    listed = []
    for (person, on), rows in asked.items():
        who = people.get(person, {"name": person, "number": None, "site": None, "department": None})
        zone = zone_of(person)
        punches = dict.fromkeys(row["punch"] for row in rows)
        answers = [proposed[person, punch] for punch in punches if (person, punch) in proposed]
        listed.append(
            OpenDay(
                person=person,
                name=who["name"] or person,
                number=who["number"],
                site=who["site"],
                department=who["department"],
                supervisors=supervisors.get(person, ()),
                day=on,
                zone=zone,
                asks=tuple(say_question(row["kind"], row["at"], zone, on) for row in rows),
                suspects=tuple(punched.get((person, on), ())),
                proposed=tuple(dict.fromkeys(say_proposal(row, zone, on) for row in answers)),
                offered=offered_of(answers, [row["kind"] for row in rows], zone),
                minutes=minutes_in_doubt(rows),
                said=tuple(one for one in waiting if one.person == person and one.day == on),
            )
        )
    return sorted(listed, key=lambda one: (one.site or "", one.department or "", one.name, one.person, one.day))


def as_csv(days: Sequence[OpenDay]) -> str:
    """Return the list as CSV (RFC 4180) with LISTED as its header; the columns of ANSWERS are empty, to be filled in.

    What a spreadsheet would run as a formula stands behind an apostrophe.
    """
    rows = []
    for one in days:
        told = (one.person, one.name, one.number, one.department, one.site, one.day.isoformat(), one.zone)
        lines = (" ".join(one.asks), "; ".join(one.punches), " ".join(one.proposed))
        rows.append([*told, *lines, *("" for _ in ANSWERS)])
    return csv_text.as_csv(LISTED, rows)
