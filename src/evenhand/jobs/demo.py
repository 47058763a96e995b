"""Show the whole of it on an invented workplace: its files taken in, its findings, its file for payroll."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path

import polars as pl

from evenhand.jobs.demo_closed import ClosedPeriodShown, close_and_change
from evenhand.jobs.demo_consent import ask_for_releases
from evenhand.jobs.handoff import HandedOff, hand_off
from evenhand.jobs.invent import Invented, invent
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.take import Receipt, RefusedFile, take_files
from evenhand.jobs.today import Today, find_today, listed
from evenhand.jobs.workspace import SETTINGS_FILE, create_workspace, open_workspace
from evenhand.store.settings import write_settings
from evenhand.terms.json_form import as_json_value
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.settings import PayPeriod, SiteRules
from evenhand.terms.zones import civil_date

__all__ = ["Demonstration", "demonstrate"]

FIRST, WEEKS, PEOPLE, READERS = date(2026, 10, 4), 6, 300, 8
# The Monday morning after the last week, some hours before payroll's deadline.
AS_OF = datetime(2026, 11, 16, 13, 0, tzinfo=UTC)
CLOSED = date(2026, 11, 2)  # a day of the week before, which was handed off and changed since
MARK = ".evenhand-demo"
# One site rounds, one does not, and nobody has said what holds at the third, so that Today has to ask.
SITES = {
    "Brindlemoor": SiteRules("Brindlemoor", "America/New_York", rounding_s=15 * 60),
    "Tallowby": SiteRules("Tallowby", "America/Chicago"),
}


@dataclass(frozen=True)
class Demonstration:
    """What the demonstration made and found; `example` is a person and a day worth asking about.

    `zones_meet` says whether it goes by clocks of several zones.
    """

    invented: Invented
    workspace: Path
    receipts: Sequence[Receipt | RefusedFile]
    today: Today
    closed: ClosedPeriodShown
    handed_off: HandedOff
    report: Path
    example: tuple[str, date]
    zones_meet: bool


def demonstrate(directory: Path, seed: int, *, progress: Callable[[str, float], None] | None = None) -> Demonstration:
    """Make the demonstration in `directory`, in place of an earlier one there.

    Raises Refusal where the directory holds anything else.
    """
    _clear(directory)
    invented = invent(directory / "invented", seed, first=FIRST, weeks=WEEKS, people=PEOPLE, readers=READERS)
    workspace = create_workspace(
        directory / "workspace",
        invented.name,
        period=PayPeriod(anchor=FIRST, weeks=1, deadline_s=36 * 3600),
        is_invented=True,
    )
    write_settings(workspace.directory / SETTINGS_FILE, replace(workspace.settings, sites=SITES))
    workspace.close()
    workspace = open_workspace(workspace.directory)
    try:
        receipts = take_files(workspace, invented.files, progress=progress, author="demo")
        ask_for_releases(workspace)
        closed = close_and_change(workspace, CLOSED, AS_OF)
        reckoning = reckon_period(workspace, AS_OF)
        zones = reckoning.snapshot.zones_meet
        today = find_today(reckoning)
        handed_off = hand_off(workspace, reckoning, as_of=AS_OF, despite=True, author="demo")
    finally:
        workspace.close()
    report = directory / "findings.json"
    report.write_text(
        json.dumps(as_json_value(listed(today.findings, reckoning.snapshot.names)), indent=1, ensure_ascii=False),
        encoding="utf-8",
    )
    return Demonstration(
        invented, workspace.directory, receipts, today, closed, handed_off, report, _example(today), zones
    )


def _clear(directory: Path) -> None:
    if directory.exists() and not directory.is_dir():
        raise Refusal(told("{directory} is a file; name a folder for the demonstration.", directory=directory))
    if directory.exists() and any(directory.iterdir()):
        if not (directory / MARK).exists():
            raise Refusal(
                told(
                    "{directory} holds something else than a demonstration; name an empty folder.", directory=directory
                )
            )
        shutil.rmtree(directory)
    directory.mkdir(parents=True, exist_ok=True)
    (directory / MARK).touch()


def _example(today: Today) -> tuple[str, date]:
    """A day with overtime in it and no question open, so that there is something to ask about and a whole answer."""
    hours = today.hours
    clear = hours.classed.join(hours.questions, on="person", how="anti").sort("starts")
    overtime = clear.filter(pl.col("pay_class") == "overtime")
    row = (overtime if overtime.height else hours.classed).row(0, named=True)
    return row["person"], civil_date(today.zone, row["starts"])
