"""The workspace's own rules, dated rules and proposals reach the hours and what needs somebody today."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.workspace import Workspace, open_workspace
from evenhand.terms.records import Refusal
from tests.jobs.asked import day_hours, find_today, hours_between, person_week
from tests.jobs.workplaces import PUNCHES, made

SUNDAY = date(2026, 11, 1)
SITE = """
[site.Mill]
zone = "America/New_York"

[[site.Mill.from]]
date = 2026-11-01
jurisdiction = "mill_agreement"
"""
LIMIT = """
[weekly_limit]
meaning = "Hours a week beyond which the agreement pays overtime"
unit = "h"

[[weekly_limit.values]]
from = 2026-11-01
value = 38
cites = "invented agreement, section 4"
"""


def with_rules(tmp_path: Path, limit: str = LIMIT, punches: list[str] = PUNCHES) -> Workspace:
    workspace = made(tmp_path, punches)
    settings = workspace.directory / "evenhand.toml"
    settings.write_text(settings.read_text(encoding="utf-8") + SITE, encoding="utf-8")
    own = workspace.directory / "rules" / "mill_agreement"
    own.mkdir(parents=True)
    (own / "jurisdiction.toml").write_text('based_on = "us_federal"\n', encoding="utf-8")
    (own / "overtime.toml").write_text(limit, encoding="utf-8")
    workspace.close()
    return open_workspace(workspace.directory)


def test_the_agreements_own_limit_holds_from_its_workweek_on(tmp_path: Path) -> None:
    # P1 works 5 x (2 h + 20 min paid rest + 6 h 40) = 45 h: seven past 38, not five past 40.
    workspace = with_rules(tmp_path)
    week = person_week(workspace, "P1", date(2026, 11, 4))
    assert week.totals["overtime_s"] == 7 * 3600
    assert week.rules.jurisdiction == "mill_agreement"
    workspace.close()


def test_a_bad_file_of_rules_is_refused_with_its_place(tmp_path: Path) -> None:
    workspace = with_rules(tmp_path, LIMIT.replace("38", "-38"))
    with pytest.raises(Refusal, match=r"overtime\.toml, weekly_limit\.values 1\.value: found '-38', expected"):
        hours_between(workspace, SUNDAY, SUNDAY)
    workspace.close()


def test_today_proposes_when_a_missing_punch_may_have_been(tmp_path: Path) -> None:
    before = [
        f"GATE,2290,2026-10-{day} {at},{way}"
        for day in range(19, 24)
        for at, way in (("08:00:00", "in"), ("16:00:00", "out"))
    ]
    workspace = with_rules(tmp_path, punches=[*PUNCHES, *before])
    seen = find_today(workspace, datetime(2026, 11, 9, 15, tzinfo=UTC), SUNDAY)
    (missing,) = [one for one in seen.findings if one.code == "missing_punch"]
    assert any("Proposed out: 16:00" in line for line in missing.evidence)
    assert "perhaps around 16:00" in missing.next_step
    workspace.close()


def test_a_day_shows_what_is_owed_beside_its_hours(tmp_path: Path) -> None:
    # P1 in California: 9 h worked with 20 minutes of break as the longest. Labor Code 512(a): no meal period by 13:00.
    workspace = with_rules(tmp_path)
    settings = workspace.directory / "evenhand.toml"
    text = settings.read_text(encoding="utf-8").replace('"mill_agreement"', '"california"')
    settings.write_text(text, encoding="utf-8")
    workspace.close()
    with_law = open_workspace(workspace.directory)
    day = day_hours(with_law, "P1", date(2026, 11, 4))
    assert day.premiums.select("kind", "hours").rows() == [("meal", Decimal(1))]
    ran = CliRunner().invoke(evenhand, ["--workspace", str(with_law.directory), "hours", "why", "P1", "2026-11-04"])
    assert "Owed beside the hours: 1 h, no first meal period of 30 minutes" in " ".join(ran.output.split())
    with_law.close()
