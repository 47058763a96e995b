"""Whether a period is whole: which readers' logs do not reach over it, and who left no punch where one was to come.

A day is held against the same weekday of up to six weeks before in which the site had logs. Of a reader or a site it is
missing where chance would leave it empty in less than one of a thousand: were its rate what it was, all k presentations
of those n weeks and this one would lie in the n with chance (n / (n + 1)) ** k (two Poisson counts compared exactly:
Przyborowski and Wilenski, Biometrika 31, 1940, from memory). Where no week before the period is known, a day from
Monday to Friday is asked about. Of a person it is missing where they were scheduled, or, where nobody schedules them,
worked on at least four of five such days before, and on three (common practice, no source). Days on which the site had
nobody count among those before where it had nobody on the day that is asked about either.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import polars as pl

from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.tables import GAPS
from evenhand.terms.zones import DAY_S, day_start, utc_start

__all__ = ["Attendance", "find_gaps"]

WEEKS = 6
CHANCE = 0.001
LEAST_DAYS, MOST_OF = 3, 0.8
AROUND_S = 3 * 3600
"""How far from a scheduled shift a punch may lie and still be of it [s]."""


@dataclass(frozen=True)
class Attendance:
    """What is known of who was to come: all that is recorded (RECORDED), whose it is (ATTRIBUTED), the roster, the
    readers, schedules, entries of leave (EARNINGS), how far files reach (TAKE_SPANS), and each site's zone.
    """

    recorded: Frame
    attributed: Frame
    people: Frame
    readers: Frame
    schedules: Frame
    earnings: Frame
    take_spans: Frame
    zones: Mapping[str, str]


def find_gaps(of: Attendance, first: date, last: date) -> Frame:
    """Return what is missing (GAPS) of the days from `first` to `last`, by kind, site, reader, person and day."""
    counts = _Counts.of(of, first, last)
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    people = _people(of, days)
    scheduled = _scheduled(of, people, days)
    closed: dict[str, set[date]] = {}
    rows: list[dict[str, Any]] = []
    for site in sorted(set(of.readers["site"])):
        due = set(scheduled.filter(pl.col("site") == site)["day"])
        is_staffed = not people.filter(pl.col("site") == site).is_empty()
        missing = {day: why for day in days if is_staffed and (why := counts.site_lacks(site, day, due))}
        closed[site] = set(missing)
        rows += [_row("site_day", site, run, missing) for run in _runs(missing)]
        for reader in sorted(of.readers.filter(pl.col("site") == site)["reader"]):
            rows += _of_reader(of, counts, site, reader, [day for day in days if day not in missing])
    rows += _of_people(of, counts, people, scheduled, closed)
    return GAPS.rows(rows).sort("kind", "site", "reader", "person", "day")


Why = tuple[str, int, int]
"""The evidence that something was to come, the count before, and of how many weeks."""


@dataclass(frozen=True)
class _Counts:
    """Presentations by reader and by site on each civil day of the readers' clocks."""

    of_reader: Mapping[tuple[str, date], int]
    of_site: Mapping[tuple[str, date], int]
    presented: Frame
    first: date

    @classmethod
    def of(cls, of: Attendance, first: date, last: date) -> _Counts:
        since, until = (utc_start(day) for day in (first - timedelta(weeks=WEEKS, days=1), last + timedelta(days=2)))
        recent = of.recorded.lazy().filter(pl.col("at").is_between(since, until)).select("reader", "at").collect()
        placed = recent.join(of.readers.select("reader", "site", "zone"), on="reader")
        presented = placed.with_columns(day=civil_days(placed["at"], placed["zone"])).filter(pl.col("day") <= last)
        by_reader = presented.group_by("reader", "day").len()
        by_site = presented.group_by("site", "day").len()
        return cls(
            {(reader, day): count for reader, day, count in by_reader.iter_rows()},
            {(site, day): count for site, day, count in by_site.iter_rows()},
            presented,
            first,
        )

    def weeks_before(self, site: str, day: date) -> list[date]:
        """Return the same weekday of the weeks before around which the site had logs, those of the period aside."""

        def has_logs(one: date) -> bool:
            around = (one + timedelta(days=n) for n in range(-3, 4))
            return any((site, near) in self.of_site for near in around if near < self.first)

        return [one for one in (day - timedelta(weeks=n) for n in range(1, WEEKS + 1)) if has_logs(one)]

    def site_lacks(self, site: str, day: date, due: Collection[date]) -> Why | None:
        """Return why a day of a site without any presentation is not whole; None where it is, or none were to come."""
        if (site, day) in self.of_site:
            return None
        before = self.weeks_before(site, day)
        usual = sum(self.of_site.get((site, one), 0) for one in before)
        if day in due:
            return "scheduled", usual, len(before)
        if before:
            return ("usual", usual, len(before)) if _is_unlikely(usual, len(before)) else None
        return ("unknown", 0, 0) if day.weekday() < 5 else None


def _of_reader(of: Attendance, counts: _Counts, site: str, reader: str, days: list[date]) -> Iterator[dict[str, Any]]:
    """Yield the days that a reader's log lacks; also the rest of the day on which it ends."""
    zone = of.readers.filter(pl.col("reader") == reader)["zone"][0]
    takes = of.take_spans.filter(pl.col("reader") == reader)["take"].implode()
    spans = of.take_spans.filter(pl.col("take").is_in(takes)).group_by("take")
    reached = spans.agg(pl.col("first_at").min(), pl.col("last_at").max()).select("first_at", "last_at").rows()

    def is_covered(since: int, until: int) -> bool:
        # A file that goes on with others' presentations over most of the time tells that this reader had none.
        return any(first <= since and 2 * last >= since + until for first, last in reached)

    missing: dict[date, Why] = {}
    ends: dict[date, int] = {}
    own = counts.presented.filter(pl.col("reader") == reader)
    for day in days:
        before = counts.weeks_before(site, day)
        opens, closes = (day_start(zone, one) for one in (day, day + timedelta(days=1)))
        if (reader, day) not in counts.of_reader:
            usual = sum(counts.of_reader.get((reader, one), 0) for one in before)
            if before and _is_unlikely(usual, len(before)) and not is_covered(opens, closes):
                missing[day] = "usual", usual, len(before)
            continue
        at = int(own.filter(pl.col("day") == day)["at"].max())  # type: ignore[arg-type]
        later = own.filter(pl.col("day").is_in(before), (pl.col("at") - at - 1) % (7 * DAY_S) < closes - at - 1)
        if before and _is_unlikely(later.height, len(before)) and not is_covered(at + 1, closes):
            missing[day], ends[day] = ("usual", later.height, len(before)), at
    for run in _runs(missing):
        yield _row("reader_log", site, run, missing) | {"reader": reader, "since": ends.get(run[0])}


def _people(of: Attendance, days: list[date]) -> Frame:
    """Return person, site and day for everybody employed on each day and not on leave."""
    grid = of.people.select("person", "hired_on", "left_on", site=pl.col("site").fill_null("")).join(
        pl.Series("day", days, dtype=pl.Date).to_frame(), how="cross"
    )
    day = pl.col("day")
    employed = grid.filter(
        day >= pl.col("hired_on").fill_null(date.min), day <= pl.col("left_on").fill_null(date.max)
    ).select("person", "site", "day")
    leave = of.earnings.filter(pl.col("kind") == "leave").select("person", "earned_from", "earned_to")
    away = employed.join(leave, on="person").filter(day.is_between("earned_from", "earned_to"))
    return employed.join(away, on=["person", "day"], how="anti", maintain_order="left")


def _scheduled(of: Attendance, people: Frame, days: list[date]) -> Frame:
    """Return person, site, day, starts_at and ends_at of the shifts that begin on these days."""
    since, until = utc_start(days[0]) - 2 * DAY_S, utc_start(days[-1]) + 2 * DAY_S
    near = of.schedules.filter(pl.col("starts_at").is_between(since, until)).select("person", "starts_at", "ends_at")
    placed = near.join(people.select("person", "site").unique(), on="person")
    zones = placed["site"].replace_strict(of.zones, default="UTC", return_dtype=pl.String)
    dated = placed.with_columns(day=civil_days(placed["starts_at"], zones))
    return dated.join(people, on=["person", "site", "day"], how="semi")


def _of_people(
    of: Attendance, counts: _Counts, people: Frame, scheduled: Frame, closed: Mapping[str, Collection[date]]
) -> Iterator[dict[str, Any]]:
    shut = _days_of_sites([(site, day) for site, days in closed.items() for day in days])
    asked = people.join(shut, on=["site", "day"], how="anti")
    by_schedule = scheduled.join(asked, on=["person", "day"], how="semi")
    met = by_schedule.join(of.attributed.select("person", "at"), on="person").filter(
        pl.col("at").is_between(pl.col("starts_at") - AROUND_S, pl.col("ends_at") + AROUND_S)
    )
    absent = by_schedule.join(met, on=["person", "starts_at"], how="anti").select("person", "site", "day")
    absent = absent.unique().with_columns(evidence=pl.lit("scheduled"), usual=0, weeks=0)
    unscheduled = asked.join(of.schedules.select("person").unique(), on="person", how="anti")
    present = _present(of, people)
    habit = _usually_there(counts, unscheduled.join(present, on=["person", "day"], how="anti"), present)
    every = pl.concat([absent, habit.select(absent.columns)], how="vertical_relaxed").sort("person", "day")
    theirs = present.join(every.select("person").unique(), on="person", how="semi")
    there = dict(theirs.group_by("person").agg("day").iter_rows())
    for (person,), rows in every.partition_by("person", as_dict=True, maintain_order=True).items():
        missing = {row["day"]: (row["evidence"], row["usual"], row["weeks"]) for row in rows.iter_rows(named=True)}
        for run in _runs(missing, set(there.get(person, ()))):
            yield _row("person_days", rows["site"][0], run, missing) | {"person": person}


def _present(of: Attendance, people: Frame) -> Frame:
    """Return person and day for every day on which somebody's punch lies, in the zone of the reader."""
    since = utc_start(min(people["day"], default=date(1970, 1, 1)) - timedelta(weeks=WEEKS, days=1))
    recent = of.attributed.filter(pl.col("at") >= since).select("person", "zone", "at")
    return recent.select("person", day=civil_days(recent["at"], recent["zone"])).unique()


def _usually_there(counts: _Counts, absent: Frame, present: Frame) -> Frame:
    """Return of people's days without a punch those on which they usually work, with how many such days they did."""
    pairs = [
        (site, day, one)
        for site, day in absent.select("site", "day").unique().rows()
        for one in counts.weeks_before(site, day)
        # On a day that had nobody at all, a day before that had nobody is like it; else the site was shut then.
        if (site, one) in counts.of_site or (site, day) not in counts.of_site
    ]
    before = _days_of_sites([pair[:2] for pair in pairs]).with_columns(
        earlier=pl.Series([pair[2] for pair in pairs], dtype=pl.Date)
    )
    asked = absent.join(before, on=["site", "day"])
    worked = present.rename({"day": "earlier"}).with_columns(worked=pl.lit(1))
    asked = asked.join(worked, on=["person", "earlier"], how="left")
    habits = asked.group_by("person", "site", "day").agg(
        usual=pl.col("worked").fill_null(0).sum().cast(pl.Int64), weeks=pl.len().cast(pl.Int64)
    )
    is_usual = (pl.col("usual") >= LEAST_DAYS) & (pl.col("usual") >= MOST_OF * pl.col("weeks"))
    return habits.filter(is_usual).with_columns(evidence=pl.lit("usual"))


def _days_of_sites(rows: Collection[tuple[str, date]]) -> Frame:
    sites, days = [site for site, _ in rows], [day for _, day in rows]
    return pl.select(site=pl.Series(sites, dtype=pl.String), day=pl.Series(days, dtype=pl.Date))


def _runs(missing: Collection[date], there: Collection[date] = ()) -> Iterator[list[date]]:
    """Yield missing days that lie together: with no day between them on which something was recorded."""
    run: list[date] = []
    for day in sorted(missing):
        between = (run[-1] + timedelta(days=n) for n in range(1, (day - run[-1]).days)) if run else ()
        is_apart = any(one in there for one in between) if there else bool(run) and (day - run[-1]).days > 1
        if run and is_apart:
            yield run
            run = []
        run.append(day)
    if run:
        yield run


def _row(kind: str, site: str, run: list[date], missing: Mapping[date, Why]) -> dict[str, Any]:
    evidence, usual, weeks = missing[run[0]]
    first = {"kind": kind, "site": site, "day": run[0], "until": run[-1], "days": len(run)}
    return first | {"evidence": evidence, "usual": usual, "weeks": weeks}


def _is_unlikely(usual: int, weeks: int) -> bool:
    return bool((weeks / (weeks + 1)) ** usual < CHANCE)
