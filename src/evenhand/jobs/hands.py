"""Look at hands and readers through scores and refusals: what changed, whom to enrol again, what cannot be known."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import Any

import polars as pl

from evenhand import checks, scores
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.score_watch import BUDGET, LIMIT, watch_of
from evenhand.store.faults import refusing
from evenhand.store.owner_only import make_folder, write_file
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.csv_text import frame_as_csv
from evenhand.terms.records import Finding

__all__ = ["Hands", "PersonHands", "daily_of", "export", "find_hands", "person_hands", "table_names", "table_of"]


@dataclass(frozen=True)
class Hands:
    """What the log says as of an instant: the watch, and what in it needs somebody."""

    reckoning: Reckoning
    watch: scores.Watch

    @property
    def names(self) -> dict[str, str]:
        """Return everybody's name by identifier."""
        return self.reckoning.snapshot.names

    @property
    def screened(self) -> scores.Screened:
        """Return the presentations fit for use, with what is wrong with the others."""
        return self.watch.charts.screened

    @property
    def issues(self) -> tuple[scores.DataIssue, ...]:
        """Return what was wrong with presentations, and which charts cannot be drawn yet."""
        return self.watch.charts.issues

    @property
    def model(self) -> scores.ScoreModel | None:
        """Return the fit of all scores; None where there are too few."""
        return self.watch.charts.model

    @property
    def promised(self) -> float:
        """Return how many false alarms a month all charts together make."""
        design = self.watch.charts.design
        return design.false_alarms_a_month if design else 0.0

    @property
    def alarms(self) -> Frame:
        """Return what changed (ALARMS), the latest first."""
        return self.watch.charts.alarms

    @property
    def forecasts(self) -> Frame:
        """Return who is refused too often, or soon will be (FORECASTS)."""
        return self.watch.charts.forecasts

    @property
    def health(self) -> Frame:
        """Return what is wrong with readers (READER_HEALTH)."""
        return self.watch.health

    @property
    def rates(self) -> Frame:
        """Return how often hands are refused (ERROR_RATES)."""
        return self.watch.charts.rates

    @property
    def group_levels(self) -> Frame:
        """Return how departments score at each reader of late (GROUP_LEVELS)."""
        departments = self.reckoning.snapshot.people.select("person", "department").drop_nulls()
        return self.watch.charts.group_levels(dict(departments.iter_rows()))

    @cached_property
    def findings(self) -> list[Finding]:
        """Return what needs somebody, as Today shows it: hands and readers that changed, whom to enrol again."""
        of, watch = self.reckoning.snapshot, self.watch
        facts = checks.Facts(
            as_of=int(self.reckoning.as_of.timestamp()),
            today=self.reckoning.day,
            zone=self.reckoning.zone,
            settings=of.settings,
            period=self.reckoning.period(),
            people=of.people,
            readers=of.readers,
            enrolments=of.enrolments,
            settled=dict(of.settled_now.select("finding", "made_at").iter_rows()),
            health=watch.health,
            refused_hands=watch.logs.refused_hands,
            alarms=watch.charts.alarms,
            forecasts=watch.charts.forecasts,
            take_spans=of.take_spans,
        )
        return checks.find_all(facts, checks.WATCHED)


DAILY = Table(
    "daily",
    "One person's presentations at each reader, day by day",
    (
        Column("day", "date", "The day", required=True),
        Column("reader", "text", "At which reader", required=True),
        Column("presentations", "count", "How often the hand was laid down", required=True),
        Column("refused", "count", "How often it was refused", required=True),
        Column("median", "score", "The middle of the scores", unit="reader's own scale"),
        Column("highest", "score", "The highest of them", unit="reader's own scale"),
    ),
    key=("day", "reader"),
)


@dataclass(frozen=True)
class PersonHands:
    """One person's part: the level by day (DAILY), alarms, forecast, and what each score is made of."""

    person: str
    name: str
    daily: Frame
    alarms: Frame
    forecast: dict[str, Any] | None
    rates: Frame
    explained: Frame
    enrolled: tuple[tuple[date, str], ...]


def find_hands(reckoning: Reckoning, *, budget: float = BUDGET, limit: float = LIMIT) -> Hands:
    """Return what scores and refusals of the weeks in the reckoning tell.

    `budget` is how many false alarms a month all charts together may make, `limit` the share of refused
    presentations that is too much. Raises Refusal for a budget or a limit that cannot be.
    """
    # No part of the reckoning, which it holds: the two would keep each other, with every frame, after a decision.
    return Hands(reckoning, watch_of(reckoning, budget, limit))


def person_hands(hands: Hands, person: str) -> PersonHands:
    """Return one person's part of what was seen; `person` is an identifier of the roster."""
    who, of = pl.col("person") == person, hands.reckoning.snapshot
    numbers = of.people.filter(who)["number"].drop_nulls().implode()
    enrolled = of.enrolments.filter(pl.col("number").is_in(numbers), pl.col("enrolled_on").is_not_null())
    daily = _by_day(_of_person(hands.watch.charts.attributed, person), "day", "reader")
    forecast = hands.forecasts.filter(who)
    return PersonHands(
        person=person,
        name=hands.names.get(person, person),
        daily=daily,
        alarms=hands.alarms.filter(who),
        forecast=forecast.row(0, named=True) if forecast.height else None,
        rates=hands.rates.filter(pl.col("of") == "person", pl.col("name") == person),
        explained=hands.watch.charts.explained(person),
        enrolled=tuple(enrolled.select("enrolled_on", "reader").sort("enrolled_on").rows()),
    )


def daily_of(hands: Hands, people: Collection[str]) -> Frame:
    """Return the presentations of several people at each reader, day by day (DAILY beside the person)."""
    presented = hands.watch.charts.attributed
    known = pl.Series(list(people), dtype=pl.String).cast(presented["person"].dtype, strict=False).drop_nulls()
    return _by_day(presented.filter(pl.col("person").is_in(known.implode())), "person", "day", "reader")


def _of_person(presented: Frame, person: str) -> Frame:
    names = presented["person"].dtype
    known = isinstance(names, pl.Enum) and person in names.categories
    return presented.filter(pl.col("person") == person) if known else presented.clear()


def _by_day(presented: Frame, *by: str) -> Frame:
    return (
        presented.group_by(by)
        .agg(
            presentations=pl.len(),
            refused=pl.col("is_refused").sum(),
            median=pl.col("score").median(),
            highest=pl.col("score").max(),
        )
        .sort(by)
    )


_TABLES: Mapping[str, Callable[[Hands], Frame]] = {
    "alarms": lambda hands: hands.alarms,
    "forecasts": lambda hands: hands.forecasts,
    "reader_health": lambda hands: hands.health,
    "refused_hands": lambda hands: hands.watch.logs.refused_hands,
    "error_rates": lambda hands: hands.rates,
    "explained": lambda hands: hands.watch.charts.explained(),
    "daily": lambda hands: _by_day(hands.watch.charts.attributed, "person", "reader", "day"),
}


def table_names() -> list[str]:
    """Return what the tables are called that stand behind what is shown."""
    return list(_TABLES)


def table_of(hands: Hands, name: str) -> Frame:
    """Return the data behind one table or picture, made when it is asked for; `name` is of `table_names`."""
    return _TABLES[name](hands)


def export(hands: Hands, directory: Path) -> list[Path]:
    """Write the data behind every table and picture as CSV into `directory`, and return the files."""
    written = []
    with refusing(str(directory)):
        make_folder(directory)
        for name in table_names():
            path = directory / f"{name}.csv"
            write_file(path, "".join(frame_as_csv(table_of(hands, name))).encode())
            written.append(path)
    return written
