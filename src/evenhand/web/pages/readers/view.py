"""What Readers shows: each reader's standing and traffic, and one reader's steps."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import polars as pl

from evenhand.jobs.overview import ReaderSeen
from evenhand.jobs.reader_hub import ReaderHub
from evenhand.jobs.today import Today, cases_of
from evenhand.terms.cases import Case
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.languages import sentence
from evenhand.terms.lately import LATELY_DAYS, is_lately
from evenhand.terms.records import Finding
from evenhand.terms.supervision import STANDING_IN_WORDS
from evenhand.terms.zones import DAY_S, offsets_of
from evenhand.web.decided import DecisionLine, decision_line
from evenhand.web.listing import Listed, ListQuery, list_rows

__all__ = ["STEP_IN_WORDS", "ReaderLine", "ReaderView", "reader", "readers", "traffic"]

TRAFFIC = Table(
    "traffic",
    "How many presentations there were on each day at a reader",
    (
        Column("day", "date", "The civil day at the reader", required=True),
        Column("presentations", "count", "Presentations on that day", required=True),
    ),
)
STEP_IN_WORDS = {
    "enrol_supervisor": sentence("Enrol a supervisor"),
    "enrol": sentence("Enrol"),
    "remove": sentence("Remove"),
    "enrol_again": sentence("Enrol again"),
}


DECISIONS_HERE = 8
LISTED_COLUMNS: Mapping[str, Callable[[Mapping[str, Any]], Any]] = {
    "number": lambda row: row["number"],
    "who": lambda row: row["known_name"],
    "since": lambda row: row["enrolled_on"],
    "last": lambda row: row["last_at"],
}


@dataclass(frozen=True)
class ReaderLine:
    """A reader's standing, with its presentations per civil day, the last day last.

    `refused` of `asked` are those of the four weeks up to now, the same that findings count.
    """

    standing: ReaderSeen
    per_day: Sequence[int]
    refused: int
    asked: int
    first_day: date
    last_day: date


@dataclass(frozen=True)
class ReaderView:
    """One reader: its standing, the steps in their order, the findings about it, who may enrol others (SUPERVISION).

    `cases` are those the findings are of, by the findings' keys.
    """

    seen: ReaderLine
    steps: Sequence[Mapping[str, Any]]
    findings: Sequence[Finding]
    cases: Mapping[str, Case]
    as_of: int
    supervisors: Sequence[Mapping[str, Any]]
    hub: ReaderHub
    listed: Listed[Mapping[str, Any]]
    decisions: Sequence[DecisionLine]


def readers(today: Today, standings: Sequence[ReaderSeen]) -> list[ReaderLine]:
    """Return every reader with its traffic of the last four weeks, days counted in the reader's own zone."""
    as_of = int(today.as_of.timestamp())
    lately = today.recorded.select("reader", "at", "outcome")
    lately = lately.filter(pl.col("at") > as_of - (LATELY_DAYS + 1) * DAY_S, pl.col("at") <= as_of)
    by_reader = {name[0]: rows for name, rows in lately.group_by("reader")}
    return [_seen(standing, by_reader.get(standing.reader, lately.clear()), as_of) for standing in standings]


def _seen(standing: ReaderSeen, rows: Frame, as_of: int) -> ReaderLine:
    offsets = offsets_of(standing.zone)
    days = offsets.to_local(rows["at"].to_numpy()) // DAY_S
    last = int(offsets.to_local(pl.Series([as_of]).to_numpy())[0]) // DAY_S
    counts = Counter(days.tolist())
    lately = rows.filter(is_lately(as_of))
    last_day = date(1970, 1, 1) + timedelta(days=last)
    return ReaderLine(
        standing=standing,
        per_day=[counts[day] for day in range(last - LATELY_DAYS + 1, last + 1)],
        refused=int((lately["outcome"] == "refused").sum()),
        asked=lately.height,
        first_day=last_day - timedelta(days=LATELY_DAYS - 1),
        last_day=last_day,
    )


def traffic(seen: ReaderLine) -> Frame:
    """Return how many presentations there were on each day of a reader's picture (TRAFFIC)."""
    return TRAFFIC.rows(
        {"day": seen.first_day + timedelta(days=at), "presentations": count} for at, count in enumerate(seen.per_day)
    )


def reader(
    today: Today,
    seen: ReaderLine,
    supervision: Frame,
    hub: ReaderHub,
    names: Mapping[str, str],
    asked: ListQuery,
    steps: Frame,
) -> ReaderView:
    """Return one reader's page, with the part of its list asked for; `supervision` (SUPERVISION) tells of all.

    `steps` are those at the reader (`steps_told`).
    """
    name = seen.standing.reader
    findings = [finding for finding in today.findings if finding.reader == name]
    there = supervision.filter(pl.col("reader") == name)
    return ReaderView(
        seen=seen,
        steps=[step | {"does": STEP_IN_WORDS[step["action"]]} for step in steps.iter_rows(named=True)],
        findings=findings,
        cases=cases_of(today, findings),
        as_of=int(today.as_of.timestamp()),
        supervisors=[row | {"stands": STANDING_IN_WORDS[row["state"]]} for row in there.iter_rows(named=True)],
        hub=hub,
        listed=list_rows(hub.listed.rows(named=True), asked, LISTED_COLUMNS, _searched, "number"),
        decisions=[decision_line(row, names) for row in hub.decisions.head(DECISIONS_HERE).iter_rows(named=True)],
    )


def _searched(row: Mapping[str, Any]) -> str:
    return " ".join(filter(None, (row["number"], row["name"], row["known_name"], row["person"])))
