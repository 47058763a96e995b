"""Teaching by the command: who can, by name; a code kept and taken back; what a plan lacks."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from tests.web.conftest import mill_directory  # noqa: F401  the mill, as its pages know it

from evenhand.cli import evenhand
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import open_workspace
from evenhand.terms.records import Refusal

AS_OF = ("--as-of", "2026-03-09T13:00Z")
CODE = "11HT-FZZR-02D7"


@pytest.fixture
def mill(mill_directory: Path, tmp_path: Path) -> Path:  # noqa: F811
    return Path(shutil.copytree(mill_directory, tmp_path / "workspace"))


def told(mill: Path, *words: str) -> str:
    done = CliRunner().invoke(evenhand, ["-w", str(mill), *words], catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return done.stdout


def test_a_code_is_kept_listed_and_taken_back(mill: Path) -> None:
    said = told(mill, "teaching", "record", "P1", CODE, "--author", "R. Hale", *AS_OF)
    assert "Tess Marrow" in said
    assert "parts went well (practice 1)" in said
    assert "it was known already" in told(mill, "teaching", "record", "P1", CODE, "--author", "R. Hale", *AS_OF)
    tess = next(line for line in told(mill, "teaching", *AS_OF).splitlines() if "Tess" in line)
    assert "not yet" not in tess
    assert "Taken back" in told(mill, "teaching", "take-back", "1", "--author", "R. Hale", *AS_OF)
    tess = next(line for line in told(mill, "teaching", *AS_OF).splitlines() if "Tess" in line)
    assert "not yet" in tess


def test_who_can_is_told_reader_by_reader(mill: Path) -> None:
    line = next(line for line in told(mill, "teaching", "cover", *AS_OF).splitlines() if "MILL-1" in line)
    assert "nobody" in line
    assert "Tess Marrow" in line


def test_a_plan_says_where_nobody_stands_by_who_can(mill: Path) -> None:
    signed = mill / "consent.csv"
    signed.write_text("person,given_on\nP4,2026-01-02\n")
    workspace = open_workspace(mill)
    take_files(workspace, [signed])
    workspace.close()
    plan = ("enrol", "plan", "2026-03-10", "--dry-run", "--author", "R. Hale", *AS_OF)
    assert "Who stands by: At MILL-1 from" in told(mill, *plan)
    for person in ("P1", "P3"):
        told(mill, "teaching", "record", person, CODE, "--author", "R. Hale", *AS_OF)
    assert "Who stands by" not in told(mill, *plan)


def test_a_plan_tells_times_by_the_clock_of_each_reader(mill: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (mill / "consent.csv").write_text("person,given_on\nP4,2026-01-02\n")
    workspace = open_workspace(mill)
    take_files(workspace, [mill / "consent.csv"])
    workspace.close()
    monkeypatch.setattr("evenhand.jobs.enrolling.zones_of", lambda snapshot: {"MILL-1": "America/Chicago"})
    plan = ("enrol", "plan", "2026-03-10", "--from", "09:00", "--dry-run", "--author", "R. Hale", *AS_OF)
    said = told(mill, *plan)
    assert "08:00" in next(line for line in said.splitlines() if "4104" in line)
    assert "At MILL-1 from 08:00" in said


def test_a_code_keyed_wrong_is_refused(mill: Path) -> None:
    words = ["-w", str(mill), "teaching", "record", "P1", CODE[:-1] + "1", "--author", "R. Hale", *AS_OF]
    done = CliRunner().invoke(evenhand, words)
    assert isinstance(done.exception, Refusal)
    assert "a letter is wrong or missing" in str(done.exception)
