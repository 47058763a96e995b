"""A rate near the minimum wage known here raises the question of a local one; no local figure is made up.

Source: 29 USC 218(a) (from memory): a higher minimum wage of a state or a municipality binds beside the federal one,
which is 7.25 (29 USC 206(a)(1)(C)); 1.5 x 7.25 is 10.875.
"""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs.local_wages import ask_local_wage
from evenhand.jobs.reckoning import reckon_day
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import Workspace, create_workspace

NOW, DAY = datetime(2026, 5, 26, 17, tzinfo=UTC), date(2026, 5, 12)
OURS = """
[minimum_wage]
meaning = "The town's minimum wage"
unit = "cent per hour"

[[minimum_wage.values]]
from = {since}
value = 1010
cites = "invented ordinance, section 2"
"""


def mill(folder: Path, rate: str) -> Workspace:
    files = {
        "readers.csv": "reader,site,zone\nGATE,Mill,America/Chicago\n",
        "people.csv": f"person,name,number,site,hourly_rate\nP1,Ada Quill,41,Mill,{rate}\n",
        "punches.csv": (
            "reader,number,time,direction\nGATE,41,2026-05-12 08:00:00,in\nGATE,41,2026-05-12 16:00:00,out\n"
        ),
    }
    for name, text in files.items():
        (folder / name).write_text(text)
    made = create_workspace(folder / "workspace", "Mill")
    take_files(made, [folder / name for name in files])
    return made


def asked(workspace: Workspace) -> list[str]:
    reckoning = reckon_day(workspace, NOW, DAY)
    return ask_local_wage(reckoning.snapshot, reckoning.person_pay("P1", DAY))


@pytest.mark.parametrize(("rate", "asks"), [("10.87", 1), ("10.88", 0)])
def test_only_rates_below_one_and_a_half_times_the_minimum_are_asked_about(
    tmp_path: Path, rate: str, asks: int
) -> None:
    assert len(asked(mill(tmp_path, rate))) == asks


def test_the_question_is_in_text_and_json_and_names_the_file_that_answers_it(tmp_path: Path) -> None:
    called = ["--workspace", str(mill(tmp_path, "9.00").directory), "pay", "P1", str(DAY)]
    shown = " ".join(CliRunner().invoke(evenhand, called).stdout.split())
    [says] = json.loads(CliRunner().invoke(evenhand, [*called, "--json"]).stdout)["asks"]
    assert f"Asked: {says}." in shown
    assert "9.00, is held against 7.25" in says
    assert "rules/us_federal/minimum_wage.toml" in says


@pytest.mark.parametrize(("since", "asks"), [("2026-01-01", 0), ("2025-05-01", 1), ("2026-06-01", 1)])
def test_a_figure_of_ones_own_answers_it_for_a_year(tmp_path: Path, since: str, asks: int) -> None:
    made = mill(tmp_path, "10.50")
    folder = made.directory / "rules" / "us_federal"
    folder.mkdir(parents=True)
    (folder / "minimum_wage.toml").write_text(OURS.format(since=since))
    assert len(asked(made)) == asks
