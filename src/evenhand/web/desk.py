"""What the pages work with: the workspace, the time, and what follows from the store as it is now."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from functools import cached_property
from threading import Lock, Thread
from typing import Annotated, cast

from fastapi import Depends, Request

from evenhand.jobs.overview import PersonSeen, ReaderSeen, people_seen, readers_seen
from evenhand.jobs.reckoning import KEPT_HISTORY, Reckoning, reach
from evenhand.jobs.score_watch import are_charts_drawn, draw_charts
from evenhand.jobs.snapshot import take_snapshot
from evenhand.jobs.today import Today, find_today
from evenhand.jobs.workspace import Workspace, do_zones_meet, paper_of
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.workplace import workplace_paper
from evenhand.terms.zones import check_reckoned

__all__ = ["AtDesk", "Desk", "Reckonings"]

# Findings age with the hour, not with the second: deadlines and 'not seen for days' move slowly.
FRESH = timedelta(minutes=15)
PADDING = timedelta(weeks=6)
"""What is read beside earlier weeks, since whoever looks at one looks at its neighbours."""

CHARTED_AT_ONCE = 50_000
"""Presentations whose charts take about a tenth of a second; with more, nobody waits for them to see Today."""


class Reckonings:
    """One reckoning for all pages, followed by the next when the store, the settings or the quarter of an hour change.

    Whatever a page asks of it is worked out once; two requests never compute the same thing twice. Weeks that lie
    further back are reckoned on their own, and the last such reckoning is kept beside it.
    """

    def __init__(
        self, workspace: Workspace, now: Callable[[], datetime], clock: Callable[[], datetime] | None = None
    ) -> None:
        """Look as of `now`, which may be fixed; `clock` is the machine's, and the same where none is given."""
        self.workspace, self.now, self.clock = workspace, now, clock or now
        self._current: Reckoning | None = None
        self._earlier: Reckoning | None = None
        self._lock = Lock()
        self._drawing: Thread | None = None

    @property
    def workplace(self) -> str:
        """Return the workplace's name; empty where the settings cannot be read just now."""
        try:
            return self.workspace.settings.workplace
        except Refusal:
            return ""

    @property
    def paper(self) -> str:
        """Return on which paper the workplace prints; empty where the settings cannot be read just now.

        Every page asks for it, so that the readers are those of the last reckoning, where there is one.
        """
        known = self._current
        try:
            return (
                workplace_paper(self.workspace.settings, known.snapshot.readers) if known else paper_of(self.workspace)
            )
        except Refusal:
            return ""

    @property
    def zones_meet(self) -> bool:
        """Whether times name their zone, as readers and sites of several ask; no where settings cannot be read."""
        known = self._current
        try:
            return known.snapshot.zones_meet if known else do_zones_meet(self.workspace)
        except Refusal:
            return False

    @property
    def language(self) -> str:
        """Return the language that the settings name for the desk; empty for none, or where they cannot be read."""
        try:
            return self.workspace.settings.language
        except Refusal:
            return ""

    def current(self) -> Reckoning:
        """Return what follows from the store and the settings as they are now, as of the last quarter of an hour."""
        now = self.now()
        as_of = now - timedelta(seconds=now.timestamp() % FRESH.total_seconds())
        with self._lock:
            self._current = self._next(self._current, as_of, reach(self.workspace, as_of) - KEPT_HISTORY, None)
            return self._current

    def over(self, current: Reckoning, first: date, last: date) -> Reckoning:
        """Return a reckoning that holds the workweeks which begin from `first` to `last`, however far back they lie."""
        if current.snapshot.covers(first, last):
            return current
        with self._lock:
            earlier = self._earlier if self._earlier and self._earlier.snapshot.covers(first, last) else None
            span = (earlier.snapshot.first, earlier.snapshot.last) if earlier else (first - PADDING, last + PADDING)
            self._earlier = self._next(earlier, current.as_of, *span)
            return self._earlier

    def since(self, current: Reckoning, first: date) -> Reckoning:
        """Return a reckoning that holds the workweeks which begin from `first` on, up to now."""
        if current.snapshot.covers(first, date.max):
            return current
        with self._lock:
            kept = self._earlier if self._earlier and self._earlier.snapshot.covers(first, date.max) else None
            # whoever looks at the period before goes on to the ones before it, which are then worked out already
            reached = kept.snapshot.first if kept else first - PADDING
            self._earlier = self._next(kept, current.as_of, reached, None)
            return self._earlier

    def decided(self, before: Reckoning, after: Reckoning) -> None:
        """Go on from the reckoning in which a decision was foreseen, now that it is made."""
        with self._lock:
            if self._current is before:
                self._current = after

    def draw_charts(self, reckoning: Reckoning) -> None:
        """Draw a reckoning's charts beside what else is done, unless others are being drawn."""
        with self._lock:
            if self._drawing is None or not self._drawing.is_alive():
                self._drawing = Thread(target=draw_charts, args=(reckoning,), daemon=True)
                self._drawing.start()

    def _next(self, before: Reckoning | None, as_of: datetime, first: date, last: date | None) -> Reckoning:
        like = before.snapshot if before is not None else None
        snapshot = take_snapshot(self.workspace, first, last, like=like)
        return Reckoning(snapshot, as_of) if before is None else before.following(snapshot, as_of)


class Desk:
    """What one request works with: all that it shows follows from one reckoning, the one of when it first asks."""

    def __init__(self, reckonings: Reckonings) -> None:
        self.reckonings = reckonings
        self.now = reckonings.now

    def refuse_later(self, what: str) -> None:
        """Raise Refusal where what cannot be undone is asked for on pages as of a time that has not come."""
        if self.now() > self.reckonings.clock():
            raise Refusal(
                told(
                    "these pages show a time later than now, and {what} cannot be undone; look at it, or do it "
                    "when that day comes.",
                    what=what,
                )
            )

    @property
    def workspace(self) -> Workspace:
        """Return the workspace; Refusal where its settings name another store by now."""
        workspace = self.reckonings.workspace
        workspace.refuse_another_store(workspace.settings)
        return workspace

    @cached_property
    def reckoning(self) -> Reckoning:
        """Return what follows from the store and the settings as they are now, as of the last quarter of an hour."""
        return self.reckonings.current()

    @property
    def zone(self) -> str:
        """Return the zone in which the pages tell times that belong to no site."""
        return self.reckoning.zone

    def reckoning_over(self, first: date, last: date) -> Reckoning:
        """Return a reckoning that holds the workweeks which begin from `first` to `last`, however far back they lie."""
        return self.reckonings.over(self.reckoning, first, last)

    def reckoning_of(self, day: date) -> Reckoning:
        """Return a reckoning that holds the workweek of a day."""
        return self.reckoning_over(day - timedelta(days=14), day)

    @cached_property
    def today(self) -> Today:
        """Return what needs a person of the period payroll waits for, as of the last quarter of an hour.

        Where there are many presentations their charts are drawn meanwhile, and Today says so until they are.
        """
        return self._today(self.reckoning, None)

    def reckoning_of_period(self, day: date | None) -> Reckoning:
        """Return a reckoning that holds the pay period of a day, and all since; None means the one payroll waits for.

        Raises Refusal where the period has not begun yet.
        """
        if day is None or day == self.reckoning.period().last:
            return self.reckoning
        check_reckoned(day)
        if self.reckoning.period(day).first > self.reckoning.day:
            raise Refusal(told("the pay period that holds {day} has not begun yet; choose one that has.", day=day))
        reached = reach(self.reckonings.workspace, self.reckoning.as_of, day) - KEPT_HISTORY
        return self.reckonings.since(self.reckoning, reached)

    def today_of(self, day: date | None) -> Today:
        """Return what needs a person of the pay period that holds a day, or of the one payroll waits for."""
        return self.today if day is None else self._today(self.reckoning_of_period(day), day)

    def _today(self, reckoning: Reckoning, day: date | None) -> Today:
        at_once = reckoning.snapshot.recorded.height <= CHARTED_AT_ONCE
        if at_once or are_charts_drawn(reckoning):
            return find_today(reckoning, day)
        found = find_today(reckoning, day, charts=False)
        self.reckonings.draw_charts(reckoning)  # only now, since both work in one interpreter
        return found

    def people(self) -> list[PersonSeen]:
        """Return everybody on the roster at a glance."""
        today = self.today
        return self.reckoning.part(("people", today.has_charts), lambda: people_seen(today))

    def readers(self) -> list[ReaderSeen]:
        """Return the readers at a glance."""
        today = self.today
        return self.reckoning.part(("readers", today.has_charts), lambda: readers_seen(today))


async def _desk_of(request: Request) -> Desk:
    return Desk(cast("Reckonings", request.app.state.reckonings))


AtDesk = Annotated[Desk, Depends(_desk_of)]
