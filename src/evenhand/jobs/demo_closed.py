"""The demonstration's closed period: handed off, changed three times since, and made good in both ways."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

import polars as pl

from evenhand.jobs.correct import CorrectionRequest, correct, reckon_around
from evenhand.jobs.handoff import HandedOff, hand_off, settle_closed
from evenhand.jobs.reckoning import Reckoning, reckon_period
from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.takes import take_back
from evenhand.jobs.workspace import Workspace
from evenhand.terms.zones import day_start

__all__ = ["ClosedPeriodShown", "close_and_change"]

BY = "demo"


@dataclass(frozen=True)
class ClosedPeriodShown:
    """The first file of the closed period, the one that replaced it, and what changed afterwards, in words."""

    first: HandedOff
    replacing: HandedOff
    adjusted: tuple[str, ...]


def close_and_change(workspace: Workspace, day: date, as_of: datetime) -> ClosedPeriodShown:
    """Hand off the period that holds `day`, and change it by a late log, a correction, and that log taken back.

    The late log is made good by a file that replaces the first; the two others wait for the next period's file.
    """

    def now() -> Reckoning:
        return reckon_period(workspace, as_of, day)

    reckoning = now()
    first = hand_off(workspace, reckoning, as_of=as_of, period_day=day, author=BY, despite=True)
    somebody, other = _two_people(reckoning, first)
    take = _late_log(workspace, reckoning, somebody, first.last)
    replacing = settle_closed(
        workspace, now(), day, way="replace", despite=True, author=BY, reason="Saturday's log came late", as_of=as_of
    )
    assert isinstance(replacing, HandedOff)
    said = []
    _stayed_longer(workspace, other, first.last, as_of)
    said.append(_adjusted(workspace, now(), day, "the work after hours was not punched", as_of))
    take_back(workspace, take, author=BY, reason="that log was a test of the reader", as_of=as_of)
    said.append(_adjusted(workspace, now(), day, "Saturday's log was a test of the reader", as_of))
    return ClosedPeriodShown(first, replacing, tuple(said))


def _two_people(reckoning: Reckoning, made: HandedOff) -> tuple[str, str]:
    """Return two people with hours in the period who left no punch on its last day, by identifier."""
    hours = reckoning.hours_between(made.first, made.last)
    begins = day_start(reckoning.zone, made.last)
    busy = hours.classed.filter(pl.col("ends") > begins - 86_400)["person"].unique()
    free = hours.weeks.filter(~pl.col("person").is_in(busy.implode()))["person"].sort()
    return str(free[0]), str(free[1])


def _late_log(workspace: Workspace, reckoning: Reckoning, person: str, day: date) -> int:
    """Take a log with four hours of somebody's on a day, and return its take."""
    of = reckoning.snapshot
    who = of.find_person(person)
    reader = of.readers.filter(pl.col("site") == who["site"])["reader"][0]
    file = workspace.directory.parent / "late.csv"
    rows = [f"{reader},{who['number']},{day} {time},{way}" for time, way in (("08:00:00", "in"), ("12:00:00", "out"))]
    file.write_text("\n".join(["reader,number,at,direction", *rows]) + "\n", encoding="utf-8")
    [receipt] = take_files(workspace, [file])
    assert isinstance(receipt, Receipt), receipt
    return receipt.take


def _stayed_longer(workspace: Workspace, person: str, day: date, as_of: datetime) -> None:
    """Add two punches by hand, two hours apart, on a day."""
    noon = datetime(day.year, day.month, day.day, 17, tzinfo=UTC)
    for direction, at in (("in", noon), ("out", noon + timedelta(hours=2))):
        asked = CorrectionRequest(
            "add", person, BY, "worked on Saturday, the supervisor says", at=at, direction=direction
        )
        correct(workspace, reckon_around(workspace, at=at.isoformat(), as_of=as_of), asked, as_of=as_of)


def _adjusted(workspace: Workspace, reckoning: Reckoning, day: date, reason: str, as_of: datetime) -> str:
    settle_closed(workspace, reckoning, day, way="adjust", author=BY, reason=reason, as_of=as_of)
    return reason
