"""Queues and coverage from the store: how long people wait at shift change, and whom a failed reader strands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import polars as pl

from evenhand.enrolment.coverage import WITHIN_REACH, Covered, growth, one_more_each, stranded
from evenhand.enrolment.queueing.line import readers_at_the_door
from evenhand.enrolment.queueing.shift_change import rushes, service_times, stagger
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.workplace import not_left
from evenhand.terms.zones import day_start

__all__ = ["CoverageSeen", "QueueSeen", "TooQuiet", "see_coverage", "see_queue"]

_WEEK_S = 7 * 86_400


BY_TIME = Table(
    "by_time",
    "The rushes of a usual week by the time of day at which they begin",
    (
        Column("quarter", "count", "The quarter of an hour of the day, from 0 at midnight", required=True),
        Column("people", "score", "People in a week", required=True),
        Column("least_lost_s", "score", "Seconds lost in a week, at least", required=True, unit="s"),
        Column("most_lost_s", "score", "Seconds lost in a week, at most", required=True, unit="s"),
    ),
    key=("quarter",),
)


class TooQuiet(Refusal):
    """The punches do not tell how long one person takes at a reader, and nobody has said it."""


@dataclass(frozen=True)
class QueueSeen:
    """The line at a row of readers over some weeks.

    `service_s` is what one person takes [s], `rushes` the runs of people (RUSHES). What the waits come to in a week
    lies between `least_lost_s` and `most_lost_s`. `typical_people` is the 95th percentile of a rush's size; with all
    of them at the door at once, `readers_needed` keep 95 % within `limit_s`, or `groups` of them `stagger_s` apart.
    """

    readers: tuple[str, ...]
    zone: str
    weeks: float
    service_s: float
    rushes: Frame
    by_time: Frame
    least_lost_s: int
    most_lost_s: int
    limit_s: int
    typical_people: int
    readers_needed: int | None
    groups: int
    stagger_s: int | None


@dataclass(frozen=True)
class CoverageSeen:
    """Whom each reader would strand (STRANDED), what helps everybody (EXTRA), and how full readers are (GROWTH)."""

    stranded: Frame
    covered: Covered
    growth: Frame
    names: dict[str, str]


def see_queue(
    workspace: Workspace,
    readers: Sequence[str],
    *,
    first: date,
    last: date,
    limit_s: int = 120,
    service_s: float | None = None,
    groups: int = 2,
) -> QueueSeen:
    """Return the line at readers that share one, from the punches of the days from `first` to `last`.

    Raises Unknown where a reader is, and TooQuiet where the punches do not tell how long one person takes and
    `service_s` does not say.
    """
    zone, span, recorded = _punches_of(workspace, readers, first, last)
    if service_s is None:
        service_s = _measured_service(recorded, readers, first, last)
    found = rushes(recorded, readers, service_s)
    weeks = max((span[1] - span[0]) / _WEEK_S, 1 / 7)
    people = int(found["people"].quantile(0.95, "higher") or 0)
    return QueueSeen(
        readers=tuple(readers),
        zone=zone,
        weeks=weeks,
        service_s=service_s,
        rushes=found,
        by_time=_by_time(found, zone, weeks),
        least_lost_s=round(int(found["least_lost_s"].sum()) / weeks),
        most_lost_s=round(int(found["most_lost_s"].sum()) / weeks),
        limit_s=limit_s,
        typical_people=people,
        # A person who waits at most the limit is through one service later.
        readers_needed=readers_at_the_door(people, service_s, limit_s + service_s) if people else len(readers),
        groups=groups,
        stagger_s=stagger(np.zeros(people), service_s, len(readers), limit_s, groups=groups) if people else 0,
    )


def _punches_of(
    workspace: Workspace, readers: Sequence[str], first: date, last: date
) -> tuple[str, tuple[int, int], Frame]:
    with workspace.store.reading() as conn:
        zones = dict(frames.readers(conn).select("reader", "zone").iter_rows())
        unknown = [reader for reader in readers if reader not in zones]
        if unknown or not readers:
            raise Unknown(
                told('there is no reader "{reader}"; `evenhand readers` lists them all.', reader="".join(unknown[:1]))
            )
        zone = zones[readers[0]]
        span = day_start(zone, first), day_start(zone, last + timedelta(days=1))
        recorded = frames.recorded(conn, since=span[0], until=span[1])
    return zone, span, recorded.filter(pl.col("reader").is_in(list(readers)))


def _measured_service(recorded: Frame, readers: Sequence[str], first: date, last: date) -> float:
    measured = service_times(recorded)
    if not measured:
        raise TooQuiet(
            told(
                "no minute from {first} to {last} is busy enough at {readers} to tell how long one person takes; say "
                "it yourself, in seconds.",
                first=first,
                last=last,
                readers=" ".join(readers),
            )
        )
    return float(np.median([service.typical_s for service in measured.values()]))


def _by_time(found: Frame, zone: str, weeks: float) -> Frame:
    """Return the rushes by quarter of an hour of the day: people, and seconds lost at most, in a week."""
    local = [datetime.fromtimestamp(at, ZoneInfo(zone)) for at in found["starts"].to_list()]
    quarter = pl.Series("quarter", [at.hour * 4 + at.minute // 15 for at in local], dtype=pl.Int64)
    sums = found.with_columns(quarter).group_by("quarter").agg(pl.col("people", "least_lost_s", "most_lost_s").sum())
    return sums.with_columns(pl.exclude("quarter") / weeks).sort("quarter")


def see_coverage(workspace: Workspace, *, as_of: date) -> CoverageSeen:
    """Return coverage on a day: everybody still here reaches the readers of the own site."""
    with workspace.store.reading() as conn:
        people, readers, enrolments = frames.people(conn), frames.readers(conn), frames.enrolments(conn)
    here = people.filter(not_left(as_of) & pl.col("number").is_not_null())
    holders = here.select("person", "number").unique("number", keep="none")
    enrolled = enrolments.join(holders, on="number").select("person", "reader").unique()
    within = here.select("person", "site").join(readers.select("reader", "site"), on="site").sort("person", "reader")
    reach = WITHIN_REACH.frame({"person": within["person"], "reader": within["reader"], "minutes": [0] * within.height})
    held = dict(enrolments.group_by("reader").len().iter_rows())
    free = {
        reader: None if capacity is None else capacity - held.get(reader, 0)
        for reader, capacity in readers.select("reader", "capacity").iter_rows()
    }
    return CoverageSeen(
        stranded(enrolled, reach),
        one_more_each(enrolled, reach, free),
        growth(enrolments, readers, as_of=as_of),
        dict(here.select("person", "name").iter_rows()),
    )
