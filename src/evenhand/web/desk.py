"""What the pages work with: the workspace, the time, and jobs' results kept until something changes."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from datetime import date, datetime, timedelta
from threading import Lock, RLock
from typing import Annotated, Any, TypeVar, cast

import polars as pl
from fastapi import Depends, Request

from evenhand.jobs.hours import DayHours, WorkedHours, hours_between
from evenhand.jobs.overview import PersonSeen, ReaderSeen, people_seen, readers_seen
from evenhand.jobs.period import workplace_zone
from evenhand.jobs.today import Today, look
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.terms.columns import Frame

__all__ = ["AtDesk", "Desk"]

Result = TypeVar("Result")

# Findings age with the hour, not with the second: deadlines and 'not seen for days' move slowly.
FRESH = timedelta(minutes=15)
MOST_KEPT = 48


class Desk:
    """Jobs' results, each computed once per state of the store; two requests never compute the same one twice."""

    def __init__(self, workspace: Workspace, now: Callable[[], datetime]) -> None:
        self.workspace, self.now = workspace, now
        self._kept: OrderedDict[Hashable, Any] = OrderedDict()
        self._locks: dict[Hashable, RLock] = {}
        self._lock = Lock()

    @property
    def zone(self) -> str:
        """Return the zone in which the pages tell times that belong to no site."""
        return workplace_zone(self.workspace)

    def revision(self) -> tuple[int, ...]:
        """Return what changes whenever a file is taken or somebody decides something."""
        with self.workspace.store.reading() as conn:
            return frames.revision(conn)

    def kept(self, name: str, arguments: Hashable, make: Callable[[], Result]) -> Result:
        """Return the result kept under `name` and `arguments` for this state of the store, making it if need be."""
        key = (self.revision(), name, arguments)
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
                return cast("Result", self._kept[key])
            lock = self._locks.setdefault(key, RLock())
        with lock:
            if key in self._kept:
                return cast("Result", self._kept[key])
            result = make()
            with self._lock:
                self._kept[key] = result
                self._locks.pop(key, None)
                while len(self._kept) > MOST_KEPT:
                    self._kept.popitem(last=False)
        return result

    def today(self) -> Today:
        """Return what needs a person, as of the last quarter of an hour."""
        now = self.now()
        as_of = now - timedelta(seconds=now.timestamp() % FRESH.total_seconds())
        return self.kept("today", as_of, lambda: look(self.workspace, as_of))

    def people(self) -> list[PersonSeen]:
        """Return everybody on the roster at a glance."""
        today = self.today()
        return self.kept("people", today.as_of, lambda: people_seen(today))

    def readers(self) -> list[ReaderSeen]:
        """Return the readers at a glance."""
        today = self.today()
        return self.kept("readers", today.as_of, lambda: readers_seen(today))

    def weeks(self, first: date, last: date) -> WorkedHours:
        """Return everybody's hours in the workweeks that begin from `first` to `last`."""
        return self.kept("weeks", (first, last), lambda: hours_between(self.workspace, first, last))

    def handoffs(self) -> Frame:
        """Return the files handed to payroll (HANDOFFS), in order."""
        with self.workspace.store.reading() as conn:
            return frames.handoffs(conn)

    def corrections_on(self, hours: DayHours) -> list[dict[str, Any]]:
        """Return the corrections (CORRECTIONS) made to one person's day, in their order, each with the punch's time."""
        who = hours.week.person
        numbers = [str(who["number"])] if who["number"] else []
        with self.workspace.store.reading() as conn:
            made = frames.corrections(conn).filter(pl.col("person") == who["person"]).rows(named=True)
            logged = frames.recorded(conn, since=hours.starts, until=hours.ends, numbers=numbers) if made else None
        at = dict(hours.punches.select("punch", "at").iter_rows())
        at |= {} if logged is None else dict(logged.select("punch", "at").iter_rows())
        at |= {-one["correction"]: one["at"] for one in made if one["at"] and hours.starts <= one["at"] < hours.ends}
        placed = ((one, at.get(one["punch"] if one["at"] is None else -one["correction"])) for one in made)
        return [one | {"at": instant} for one, instant in placed if instant is not None]


def _desk_of(request: Request) -> Desk:
    return cast("Desk", request.app.state.desk)


AtDesk = Annotated[Desk, Depends(_desk_of)]
