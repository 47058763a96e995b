"""Scores and refusals as stored become alarms, forecasts and rates; what is missing is said."""

from __future__ import annotations

import csv
import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import polars as pl
import pytest
from click.testing import CliRunner

from evenhand import reconcile
from evenhand.cli import evenhand
from evenhand.jobs.hands import Hands, export, find_hands, person_hands
from evenhand.jobs.planned_test import read_planned_test
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.take import Receipt, take_files
from evenhand.jobs.workspace import Workspace, create_workspace, open_workspace
from evenhand.terms.records import Refusal
from tests.scores.invented import FIRST, log

AS_OF = datetime(2026, 4, 11, 8, 0, tzinfo=UTC)
READERS = [f"R{i}" for i in range(3)]


def changed(person: int, reader: int, day: int) -> float:
    """One hand jumps by 0.9 on day 22, one reader gets dirty from day 28 on."""
    return (0.9 if person == 7 and day >= 22 else 0.0) + (0.6 if reader == 2 and day >= 28 else 0.0)


def filled(directory: Path, **more: Any) -> Workspace:
    """A workspace of 24 people at three readers in UTC, with 40 days of scores."""
    frame = log(np.random.default_rng(3), people=24, per_day=3, shift=changed, **more)
    numbers = pl.col("person").str.replace("P", "1")
    punches = frame.select(
        "reader",
        number=numbers,
        at=pl.from_epoch("at").dt.strftime("%Y-%m-%d %H:%M:%S"),
        direction=pl.when(pl.col("punch") % 2 == 0).then(pl.lit("in")).otherwise(pl.lit("out")),
        outcome=pl.when("is_refused").then(pl.lit("refused")).otherwise(pl.lit("accepted")),
        score=pl.col("score").round(2),
    )
    exports = directory / "exports"
    exports.mkdir()
    readers = "\n".join(f"{name},Mill,Gate {name},Etc/UTC,4,100" for name in READERS)
    (exports / "readers.csv").write_text(f"reader,site,place,zone,max_digits,capacity\n{readers}\n")
    people = "\n".join(f"P{i:03d},Name {chr(65 + i)},1{i:03d},Mill" for i in range(24))
    (exports / "people.csv").write_text(f"person,name,number,site\n{people}\n")
    (exports / "punches.csv").write_text(punches.sort("at").write_csv())
    workspace = create_workspace(directory / "mill", "Mill")
    for receipt in take_files(workspace, [exports / f"{name}.csv" for name in ("readers", "people", "punches")]):
        assert isinstance(receipt, Receipt), receipt
        assert receipt.rejected == 0
    return workspace


@pytest.fixture(scope="module")
def mill(tmp_path_factory: pytest.TempPathFactory) -> Path:
    directory = tmp_path_factory.mktemp("hands")
    filled(directory).close()
    return directory / "mill"


def looked(workspace: Workspace, **more: float) -> Hands:
    return find_hands(reckon_period(workspace, AS_OF), **more)


@pytest.fixture(scope="module")
def seen(mill: Path) -> Hands:
    return looked(open_workspace(mill))


def test_every_presentation_has_its_person_and_its_civil_day(seen: Hands) -> None:
    presented = seen.watch.logs.presented
    assert presented.height == 24 * 40 * 3
    assert presented["person"].n_unique() == 24
    assert presented["is_refused"].sum() > 0
    assert (presented["day"].min(), presented["day"].max()) == (FIRST, FIRST + timedelta(days=39))


def test_the_hand_and_the_reader_that_changed_are_named_with_their_next_step(seen: Hands) -> None:
    found = {finding.key.rsplit("/", 1)[0]: finding for finding in seen.findings}
    hand = found["hand_changed/P007"]
    assert hand.says.startswith("Name H (P007):")
    assert "enrol again" in hand.next_step
    assert found["reader_changed/R2"].next_step.startswith("Clean the platen")
    assert not any(finding.blocks_pay for finding in found.values())


def test_whom_to_enrol_again_and_what_it_saves(seen: Hands) -> None:
    assert seen.forecasts["person"][0] == "P007"
    assert seen.forecasts["saved"][0] > 1


def test_one_person_alone(mill: Path, seen: Hands) -> None:
    part = person_hands(seen, "P007")
    assert part.daily["presentations"].sum() == 120
    assert set(part.explained["person"]) == {"P007"}
    assert part.forecast is not None


def test_the_data_behind_the_pictures_can_be_had(seen: Hands, tmp_path: Path) -> None:
    written = export(seen, tmp_path / "out")
    assert {path.name for path in written} >= {"alarms.csv", "error_rates.csv", "explained.csv", "daily.csv"}
    with (tmp_path / "out" / "explained.csv").open() as file:
        assert sum(1 for _ in csv.DictReader(file)) == 24 * 40 * 3


def test_no_budget_and_no_limit_that_cannot_be(mill: Path) -> None:
    with pytest.raises(Refusal, match="cannot be promised"):
        looked(open_workspace(mill), budget=0)
    with pytest.raises(Refusal, match="no share of presentations"):
        looked(open_workspace(mill), limit=5)


def test_an_empty_workspace_has_nothing_to_say(tmp_path: Path) -> None:
    seen = looked(create_workspace(tmp_path / "new", "New"))
    assert (seen.alarms.height, seen.forecasts.height, seen.health.height, seen.rates.height) == (0, 0, 0, 0)
    assert seen.findings == []


def ran(mill: Path, *arguments: str) -> str:
    asked = ["-w", str(mill), "hands", "--as-of", AS_OF.isoformat(), *arguments]
    result = CliRunner().invoke(evenhand, asked, standalone_mode=False)
    if result.exception:
        raise result.exception
    return result.output


def test_the_command_names_what_changed_and_never_blames(mill: Path) -> None:
    said = ran(mill)
    assert "Name H" in said
    assert "The hand changed" in said
    assert "never of conduct" in said
    assert not {"fault", "blame", "cheat", "fraud"} & set(said.lower().split())


def test_the_command_gives_rates_a_person_and_json(mill: Path) -> None:
    assert "false non match rate" in ran(mill, "rates", "--of", "reader")
    assert "cannot be read off a log" in ran(mill, "rates")
    assert "The highest scores" in ran(mill, "person", "P007")
    asked = json.loads(ran(mill, "--json"))
    assert {"alarms", "findings", "forecasts", "issues", "reader_health", "refused_hands"} == set(asked)


def test_the_findings_of_the_page_can_be_had(mill: Path, seen: Hands) -> None:
    wanted = [finding.key for finding in seen.findings]
    assert wanted
    assert [row["key"] for row in json.loads(ran(mill, "--json", "findings"))] == wanted
    assert [row["key"] for row in json.loads(ran(mill, "--json"))["findings"]] == wanted
    told = ran(mill, "findings")
    assert all(finding.says in told and finding.next_step in told for finding in seen.findings)


def test_a_threshold_is_weighed_by_a_planned_test(mill: Path, tmp_path: Path) -> None:
    test = tmp_path / "test.csv"
    test.write_text("comparison,score\n" + "mated,5\n" * 90 + "mated,25\n" * 10 + "non-mated,40\n" * 50)
    said = ran(mill, "threshold", str(test), "--present-threshold", "18", "--presentations-a-week", "1000")
    # at 25 nobody of the test is refused and no wrong hand passes; at 18, 100 of 1000 lose a quarter of a minute
    assert "At 25, refusals cost about 0.0 minutes a week" in said
    assert "At 18 it is 25.0 minutes" in said
    assert "100 mated and 50 non-mated scores (test)" in said


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("kind,score\nmated,5\n", "line 1: the columns comparison and score are needed"),
        ("comparison,score\nmated,5\nforeign,6\n", "line 3: comparison is 'foreign'"),
        ("comparison,score\nmated,five\n", "line 2: 'five' is no score"),
        ("comparison,score\nmated,-1\n", "line 2: a dissimilarity is 0 or more"),
    ],
)
def test_a_planned_test_that_is_not_so_is_refused_by_line(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "test.csv"
    path.write_text(text)
    with pytest.raises(Refusal, match=says):
        read_planned_test(path)


def test_a_correction_leaves_the_watch_as_it_was(mill: Path) -> None:
    reckoning = reckon_period(open_workspace(mill), AS_OF)
    punch = reckoning.snapshot.recorded["punch"][0]
    made = {"author": "R. Hale", "reason": "seen", "made_at": 0}
    given = {"action": "attribute", "punch": punch, "person": "P001", **made}
    before = find_hands(reckoning).watch
    after = reckoning.with_corrections([given])
    assert find_hands(after).watch is before
    # the hand was compared with the reference of the number that was keyed, whoever the punch is given to
    held = reconcile.holders(after.snapshot.recorded, after.snapshot.people, after.snapshot.readers)
    assert held[0] != "P001"
    assert held.null_count() == 0
