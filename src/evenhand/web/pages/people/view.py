"""What People shows: the roster as a list, and one person."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import polars as pl

from evenhand.jobs.hours import WorkedHours
from evenhand.jobs.overview import PersonSeen, enrolled_as
from evenhand.jobs.person_hub import PersonHub
from evenhand.jobs.today import Today, cases_of
from evenhand.terms.cases import Case
from evenhand.terms.records import Finding
from evenhand.terms.settings import Period, SiteRules
from evenhand.web.decided import DecisionLine, decision_line
from evenhand.web.listing import Listed, ListQuery, list_rows

__all__ = ["WEEKS_BEFORE", "Person", "RosterView", "Week", "person", "roster"]

WEEKS_BEFORE = 4
DECISIONS_HERE = 8

COLUMNS: Mapping[str, Callable[[PersonSeen], Any]] = {
    "name": lambda who: who.name.casefold(),
    "number": lambda who: who.number,
    "site": lambda who: who.site,
    "readers": lambda who: len(who.readers),
    "last": lambda who: who.last_at,
    "findings": lambda who: who.findings,
    "hours": lambda who: who.ordinary_s + who.overtime_s + who.double_s,
}


@dataclass(frozen=True)
class RosterView:
    """The roster, one page of it; `most_s` is the longest period's hours, which bars are drawn against."""

    listed: Listed[PersonSeen]
    everybody: int
    first: date
    last: date
    most_s: int
    as_of: int
    zone: str


@dataclass(frozen=True)
class Week:
    """One workweek of the person."""

    begins: date
    recorded_s: int
    ordinary_s: int
    overtime_s: int
    double_s: int
    questions: int


@dataclass(frozen=True)
class Person:
    """One person: the roster's row, where their number is enrolled, weeks, findings, and what is known beside that.

    `period_s` is what the period payroll waits for pays so far [s]; `left_out` counts decisions that are not shown.
    """

    row: Mapping[str, Any]
    zone: str
    enrolments: Sequence[Mapping[str, Any]]
    weeks: Sequence[Week]
    most_s: int
    findings: Sequence[Finding]
    cases: Mapping[str, Case]
    has_left: bool
    is_listed: bool
    hub: PersonHub
    decisions: Sequence[DecisionLine]
    period: Period
    period_s: int
    left_out: int


def roster(today: Today, people: Sequence[PersonSeen], asked: ListQuery) -> RosterView:
    """Return the page of the roster that is asked for."""
    listed = list_rows(people, asked, COLUMNS, _searched, "name")
    return RosterView(
        listed=listed,
        everybody=len(people),
        first=today.period.first,
        last=today.period.last,
        most_s=max((COLUMNS["hours"](who) for who in people), default=0),
        as_of=int(today.as_of.timestamp()),
        zone=today.zone,
    )


def _searched(who: PersonSeen) -> str:
    return " ".join(filter(None, (who.name, who.person, who.number, who.site, who.department)))


def person(
    today: Today, row: Mapping[str, Any], hours: WorkedHours, rules: SiteRules, hub: PersonHub, names: Mapping[str, str]
) -> Person:
    """Return one person's page."""
    weeks = [
        Week(
            week["workweek"],
            week["recorded_s"],
            week["ordinary_s"],
            week["overtime_s"],
            week["double_s"],
            week["questions"],
        )
        for week in hours.weeks.sort("workweek", descending=True).iter_rows(named=True)
    ]
    name = row["person"]
    places = today.readers.select("reader", "site", "place")
    theirs = enrolled_as(today).filter(pl.col("person") == name).select("reader", "number")
    enrolments = today.enrolments.join(theirs, on=["reader", "number"]).join(places, on="reader", how="left")
    of_period = [week for week in weeks if today.period.first <= week.begins <= today.period.last]
    findings = [finding for finding in today.findings if finding.concerns(name)]
    return Person(
        row=row,
        zone=rules.zone,
        enrolments=enrolments.sort("reader").rows(named=True),
        weeks=weeks,
        most_s=max((week.ordinary_s + week.overtime_s + week.double_s for week in weeks), default=0),
        findings=findings,
        cases=cases_of(today, findings),
        has_left=row["left_on"] is not None and row["left_on"] < today.day,
        is_listed=name not in today.unlisted,
        hub=hub,
        decisions=[decision_line(one, names) for one in hub.decisions.head(DECISIONS_HERE).iter_rows(named=True)],
        period=today.period,
        period_s=sum(week.ordinary_s + week.overtime_s + week.double_s for week in of_period),
        left_out=max(0, hub.decisions.height - DECISIONS_HERE),
    )
