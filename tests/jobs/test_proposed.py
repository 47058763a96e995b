"""What is proposed for a missing punch is the same in findings, in commands and for a day, and follows decisions."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.proposed import proposals_of_day, proposals_of_period, propose_for_day
from evenhand.jobs.reckoning import Reckoning, reckon_day, reckon_period, renewed
from evenhand.jobs.stray_decisions import confirm_stray
from evenhand.jobs.workspace import Workspace
from tests.jobs.workplaces import PUNCHES, made

NOW = datetime(2026, 11, 9, 15, tzinfo=UTC)
OPEN_DAY = date(2026, 11, 4)
BEFORE = [
    f"GATE,2290,2026-10-{day} {at}:{day % 4:02}:00,{way}"
    for day in (19, 20, 21, 22, 23, 26, 27, 28, 29, 30)
    for at, way in (("08", "in"), ("16", "out"))
]
STRAY = "GATE,4281,2026-11-04 16:02:00,out"


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    """P3 usually works from 08:00 to 16:00 and did not punch out on 4 November."""
    opened = made(tmp_path, [*PUNCHES, *BEFORE])
    yield opened
    opened.close()


def of_period(reckoning: Reckoning) -> list[dict[str, object]]:
    period = reckoning.period()
    hours = reckoning.hours_between(period.first, period.last)
    return proposals_of_period(reckoning, hours, period).rows(named=True)


def test_a_day_is_told_what_the_period_is_told(workspace: Workspace) -> None:
    (told,) = of_period(reckon_period(workspace, NOW))
    assert told["kind"] == "end"
    day = reckon_day(workspace, NOW, OPEN_DAY).person_day("P3", OPEN_DAY)
    (alone,) = propose_for_day(workspace, NOW, day).rows(named=True)
    assert alone == told
    whole = reckon_day(workspace, NOW, date(2026, 11, 3)).person_day("P3", date(2026, 11, 3))
    assert propose_for_day(workspace, NOW, whole).is_empty()


def test_a_stray_that_is_given_to_somebody_is_linked_no_longer(tmp_path: Path) -> None:
    workspace = made(tmp_path, [*PUNCHES, *BEFORE, STRAY])
    reckoning = reckon_period(workspace, NOW)
    (told,) = of_period(reckoning)
    assert (told["stray"], told["at"]) == ("GATE/4281", None)
    (of_day,) = proposals_of_day(reckoning, reckoning.person_day("P3", OPEN_DAY)).rows(named=True)
    assert of_day == told
    confirm_stray(workspace, reckoning, "GATE/4281", "P2", author="Clerk", reason="their shift", as_of=NOW)
    (after,) = (one for one in of_period(renewed(workspace, reckoning)) if one["person"] == "P3")
    assert after["stray"] is None
    assert after["at"] is not None
    workspace.close()


def test_no_time_is_proposed_that_is_still_to_come(workspace: Workspace) -> None:
    morning = datetime(2026, 11, 4, 15, tzinfo=UTC)  # 10:00 at the mill
    reckoning = reckon_period(workspace, morning)
    (told,) = proposals_of_day(reckoning, reckoning.person_day("P3", OPEN_DAY)).rows(named=True)
    assert (told["kind"], told["at"], told["latest_at"], told["way"]) == ("not_sure", None, None, None)
    assert told["says"] == "the person may be in still"


def test_a_day_is_explained_with_what_is_proposed_and_the_command_that_adds_it(workspace: Workspace) -> None:
    asked = ["--workspace", str(workspace.directory), "hours", "why", "P3", "2026-11-04"]
    ran = " ".join(CliRunner().invoke(evenhand, asked).output.split())
    assert "Proposed out: 16:0" in ran
    assert "times in a hundred" in ran
    assert "evenhand correct add P3 --at 2026-11-04T16:0" in ran
    assert "-05:00 --direction out --reason" in ran
    said = ["--at", "2026-11-04T16:20", "--direction", "out", "--reason", "said so", "--author", "Clerk"]
    ran = CliRunner().invoke(evenhand, [*asked[:2], "correct", "add", "P3", *said], input="n\n").output
    assert "Proposed out: 16:0" in " ".join(ran.split())
    (told,) = json.loads(CliRunner().invoke(evenhand, [*asked, "--json"]).output)["proposals"]
    assert told["kind"] == "end"
    assert told["at"].startswith("2026-11-04T21:0")  # UTC
    assert told["earliest_at"] < told["at"] < told["latest_at"]
