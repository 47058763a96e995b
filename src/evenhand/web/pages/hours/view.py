"""What Hours shows of a week: everybody's rows, and one person's seven days."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import polars as pl
from markupsafe import Markup

from evenhand.jobs.hours import PersonWeek
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Speech, told
from evenhand.terms.weeks import week_holding
from evenhand.terms.zones import day_start
from evenhand.web.listing import Listed, ListQuery, list_rows
from evenhand.web.pages.hours.drawing import draw_day, seconds_of

__all__ = ["DayOfWeek", "PersonWeekView", "WeekRow", "WeekView", "person_week", "week", "week_begins", "week_rows"]


@dataclass(frozen=True)
class WeekRow:
    """One person's week in the list of everybody."""

    person: str
    name: str
    number: str
    site: str
    recorded_s: int
    ordinary_s: int
    overtime_s: int
    double_s: int
    questions: int

    @property
    def paid_s(self) -> int:
        """Return the paid seconds of every class."""
        return self.ordinary_s + self.overtime_s + self.double_s


COLUMNS: Mapping[str, Callable[[WeekRow], Any]] = {
    "name": lambda row: row.name.casefold(),
    "number": lambda row: row.number,
    "site": lambda row: row.site,
    "recorded": lambda row: row.recorded_s,
    "ordinary": lambda row: row.ordinary_s,
    "overtime": lambda row: row.overtime_s,
    "double": lambda row: row.double_s,
    "questions": lambda row: row.questions,
}


@dataclass(frozen=True)
class WeekView:
    """Everybody's week, one page of it, with totals over everybody."""

    listed: Listed[WeekRow]
    held: date
    begins: date
    ends: date
    earlier: date
    later: date
    most_s: int
    ordinary_s: int
    overtime_s: int
    double_s: int
    questions: int


@dataclass(frozen=True)
class DayOfWeek:
    """One civil day of a person's week, drawn from midnight to midnight."""

    day: date
    drawn: Markup
    paid_s: int
    punches: int
    questions: int


@dataclass(frozen=True)
class PersonWeekView:
    """One person's week."""

    person: Mapping[str, Any]
    zone: str
    begins: date
    earlier: date
    later: date
    days: Sequence[DayOfWeek]
    most_s: int
    recorded_s: int
    steps_s: int
    ordinary_s: int
    overtime_s: int
    double_s: int


def week_begins(anchor: date, day: date) -> date:
    """Return the first day of the week, counted as pay periods are, that holds `day`."""
    return week_holding(day, anchor.weekday())


def week_rows(people: Frame, weeks: Frame, begins: date) -> list[WeekRow]:
    """Return a row for everybody employed in the week that begins on a day, and for whoever has hours in it."""
    names = ("person", "recorded_s", "ordinary_s", "overtime_s", "double_s", "questions")
    summed = {row[0]: row[1:] for row in weeks.select(names).group_by("person").sum().select(names).iter_rows()}
    ends = begins + timedelta(days=6)
    employed = people.filter(pl.col("hired_on").fill_null(begins) <= ends, pl.col("left_on").fill_null(ends) >= begins)
    listed = pl.concat([employed, people.filter(pl.col("person").is_in(list(summed)))]).unique("person")
    return [
        WeekRow(person, name, number or "", site or "", *summed.get(person, (0, 0, 0, 0, 0)))
        for person, name, number, site in listed.select("person", "name", "number", "site").iter_rows()
    ]


def week(rows: Sequence[WeekRow], asked: ListQuery, held: date, begins: date) -> WeekView:
    """Return the page of everybody's workweek that holds a day; by the workplace's weeks that one `begins` so."""
    return WeekView(
        listed=list_rows(rows, asked, COLUMNS, lambda row: f"{row.name} {row.person} {row.number} {row.site}", "name"),
        held=held,
        begins=begins,
        ends=begins + timedelta(days=6),
        earlier=held - timedelta(days=7),
        later=held + timedelta(days=7),
        most_s=max((row.paid_s for row in rows), default=0),
        ordinary_s=sum(row.ordinary_s for row in rows),
        overtime_s=sum(row.overtime_s for row in rows),
        double_s=sum(row.double_s for row in rows),
        questions=sum(row.questions for row in rows),
    )


def person_week(hours: PersonWeek, speech: Speech) -> PersonWeekView:
    """Return one person's week, day by day."""
    days = [_day(hours, day, speech) for day in hours.days]
    totals = hours.totals
    return PersonWeekView(
        person=hours.person,
        zone=hours.rules.zone,
        begins=hours.workweek,
        earlier=hours.workweek - timedelta(days=7),
        later=hours.workweek + timedelta(days=7),
        days=days,
        most_s=max((day.paid_s for day in days), default=0),
        recorded_s=totals["recorded_s"],
        steps_s=int(hours.hours.steps["seconds"].sum()),
        ordinary_s=totals["ordinary_s"],
        overtime_s=totals["overtime_s"],
        double_s=totals["double_s"],
    )


def _day(hours: PersonWeek, day: date, speech: Speech) -> DayOfWeek:
    zone = hours.rules.zone
    starts, ends = day_start(zone, day), day_start(zone, day + timedelta(days=1))
    inside = pl.col("at").is_between(starts, ends, closed="left")
    classed = hours.hours.classed.filter(pl.col("starts") < ends, pl.col("ends") > starts).with_columns(
        pl.col("starts").clip(lower_bound=starts), pl.col("ends").clip(upper_bound=ends)
    )
    punches, questions = hours.hours.attributed.filter(inside), hours.hours.questions.filter(inside)
    paid_s = seconds_of(classed)
    says = told(
        "{day:long}: {paid:duration} paid, {punches} punches, {asked} open questions",
        day=day,
        paid=paid_s,
        punches=punches.height,
        asked=questions.height,
    )
    drawn = draw_day(punches, classed, questions, (starts, ends), zone, says, speech)
    return DayOfWeek(day, drawn, paid_s, punches.height, questions.height)
